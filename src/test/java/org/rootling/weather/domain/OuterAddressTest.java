package org.rootling.weather.domain;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.InetAddress;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Against the blocks of RFC 6890 (first and last addresses of each), RFC 6052, RFC 3056 and RFC 4193, from memory; compared
 * with the IANA registries as Python's {@code ipaddress} keeps them. What holds an IPv4 address inside is judged by that
 * address or refused, which is our choice.
 */
class OuterAddressTest {

    @ParameterizedTest
    @ValueSource(
            strings = {
                "0.0.0.0",
                "0.255.255.255",
                "10.0.0.0",
                "10.255.255.255",
                "100.64.0.0",
                "100.127.255.255",
                "127.0.0.1",
                "127.255.255.255",
                "169.254.169.254",
                "172.16.0.0",
                "172.31.255.255",
                "192.0.0.0",
                "192.0.0.255",
                "192.0.2.1",
                "192.88.99.1",
                "192.168.0.0",
                "192.168.255.255",
                "198.18.0.0",
                "198.19.255.255",
                "198.51.100.1",
                "203.0.113.1",
                "224.0.0.1",
                "239.255.255.255",
                "240.0.0.1",
                "255.255.255.255",
                "::",
                "::1",
                "::ffff:10.0.0.1",
                "64:ff9b::a00:1",
                "64:ff9b::7f00:1",
                "64:ff9b:1::1",
                "100::1",
                "2001::1",
                "2001:1ff:ffff:ffff:ffff:ffff:ffff:ffff",
                "2001:db8::1",
                "2002:a00:1::1",
                "fc00::1",
                "fdff:ffff::1",
                "fe80::1",
                "fec0::1",
                "ff02::1"
            })
    void isNoneOfTheInternet(String address) throws Exception {
        assertThat(OuterAddress.is(InetAddress.getByName(address))).isFalse();
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "1.1.1.1",
                "9.255.255.255",
                "11.0.0.0",
                "100.63.255.255",
                "100.128.0.0",
                "126.255.255.255",
                "128.0.0.0",
                "172.15.255.255",
                "172.32.0.0",
                "192.0.1.0",
                "192.167.255.255",
                "192.169.0.0",
                "198.17.255.255",
                "198.20.0.0",
                "223.255.255.255",
                "::ffff:1.1.1.1",
                "64:ff9b::101:101",
                "2001:200::1",
                "2003::1",
                "2606:4700::1111",
                "3fff:ffff::1"
            })
    void isOneOfTheInternet(String address) throws Exception {
        assertThat(OuterAddress.is(InetAddress.getByName(address))).isTrue();
    }
}
