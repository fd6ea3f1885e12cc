package org.rootling.weather.domain;

import java.net.Inet4Address;
import java.net.InetAddress;
import java.util.Arrays;
import java.util.List;

/** Tells addresses of the public internet from those of a machine or a network of one's own. */
final class OuterAddress {

    /** The first bytes of an address, and how many bits of them count. */
    private record Range(byte[] start, int bits) {
        static Range of(int bits, int... start) {
            byte[] bytes = new byte[start.length];
            for (int i = 0; i < start.length; i++) {
                bytes[i] = (byte) start[i];
            }
            return new Range(bytes, bits);
        }

        boolean has(byte[] address) {
            for (int i = 0; i < bits; i++) {
                int mask = 0x80 >> (i % 8);
                if ((address[i / 8] & mask) != (start[i / 8] & mask)) {
                    return false;
                }
            }
            return true;
        }
    }

    /** IPv4 blocks that are not globally reachable, or lead elsewhere: RFC 6890, table by table; 224/4 and 240/4 in one. */
    private static final List<Range> INNER_4 = List.of(
            Range.of(8, 0),
            Range.of(8, 10),
            Range.of(10, 100, 64),
            Range.of(8, 127),
            Range.of(16, 169, 254),
            Range.of(12, 172, 16),
            Range.of(24, 192, 0, 0),
            Range.of(24, 192, 0, 2),
            Range.of(24, 192, 88, 99),
            Range.of(16, 192, 168),
            Range.of(15, 198, 18),
            Range.of(24, 198, 51, 100),
            Range.of(24, 203, 0, 113),
            Range.of(3, 224));

    /** What IPv6 has of global unicast: RFC 4291, section 2.4. */
    private static final Range GLOBAL_6 = Range.of(3, 0x20);

    /** Of that not for use in public, or with an IPv4 address inside: RFC 6890; 6to4 is RFC 3056. */
    private static final List<Range> INNER_6 =
            List.of(Range.of(23, 0x20, 0x01, 0), Range.of(32, 0x20, 0x01, 0x0d, 0xb8), Range.of(16, 0x20, 0x02));

    /** The well-known prefix of translated IPv4 addresses, which come last: RFC 6052. */
    private static final Range TRANSLATED = Range.of(96, 0, 0x64, 0xff, 0x9b, 0, 0, 0, 0, 0, 0, 0, 0);

    private OuterAddress() {}

    /** Whether it is one of the public internet. Java reads IPv4 addresses written as IPv6 ones as what they are. */
    static boolean is(InetAddress ip) {
        byte[] address = ip.getAddress();
        if (ip instanceof Inet4Address) {
            return isOuter4(address);
        }
        if (TRANSLATED.has(address)) {
            return isOuter4(Arrays.copyOfRange(address, 12, 16));
        }
        return GLOBAL_6.has(address) && INNER_6.stream().noneMatch(range -> range.has(address));
    }

    private static boolean isOuter4(byte[] address) {
        return INNER_4.stream().noneMatch(range -> range.has(address));
    }
}
