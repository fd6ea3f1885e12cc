package org.rootling.exchange.domain;

import java.io.Closeable;
import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import java.util.regex.Pattern;
import java.util.zip.ZipEntry;
import java.util.zip.ZipException;
import java.util.zip.ZipFile;
import org.rootling.platform.Refused;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.json.JsonMapper;

/** An archive that came from outside: nothing of it is believed before it was checked. */
final class ArchiveFile implements Closeable {

    private static final int MOST_FILES = 200_000;
    private static final long MOST_BYTES = 8L << 30;
    private static final int LONGEST_MANIFEST = 64 << 20;

    /** CSV of this program packs to about a tenth; what unpacks to a hundred times its size was made to do harm. */
    private static final long MOST_UNPACKING = 100;

    private static final Pattern NAME = Pattern.compile(
            "README\\.txt|people\\.csv|blocks\\.geojson|tables/[a-z0-9_]{1,63}\\.csv|files/[a-z0-9_]{1,63}/[0-9a-f-]{36}-[a-z0-9_]{1,63}\\.(jpg|png|webp|pdf)");

    private final ZipFile zip;
    private final Manifest manifest;
    private final Map<String, Manifest.Entry> entries = new LinkedHashMap<>();

    private ArchiveFile(ZipFile zip, Manifest manifest) {
        this.zip = zip;
        this.manifest = manifest;
        manifest.files().forEach(entry -> entries.put(entry.name(), entry));
    }

    /** Opens it and reads its manifest; refuses what is no archive, is of another version, or claims too much. */
    static ArchiveFile open(Path file, JsonMapper json) throws IOException {
        ZipFile zip;
        try {
            zip = new ZipFile(file.toFile());
        } catch (ZipException noZip) {
            throw new Refused("exchange.restore.no-archive");
        }
        try {
            ArchiveFile archive = new ArchiveFile(zip, manifest(zip, json));
            archive.requireKnownNames(Files.size(file));
            return archive;
        } catch (IOException | RuntimeException failure) {
            zip.close();
            throw failure;
        }
    }

    private static Manifest manifest(ZipFile zip, JsonMapper json) throws IOException {
        ZipEntry entry = zip.getEntry(Manifest.FILE);
        if (entry == null) {
            throw new Refused("exchange.restore.no-archive");
        }
        byte[] text;
        try (InputStream in = zip.getInputStream(entry)) {
            text = in.readNBytes(LONGEST_MANIFEST);
        }
        Manifest read;
        try {
            read = json.readValue(text, Manifest.class);
        } catch (JacksonException unreadable) {
            throw new Refused("exchange.restore.no-archive");
        }
        if (!Manifest.FORMAT.equals(read.format()) || read.vineyard() == null || read.schema() == null) {
            throw new Refused("exchange.restore.no-archive");
        }
        if (read.version() != Manifest.VERSION) {
            throw new Refused("exchange.restore.version", Integer.toString(read.version()));
        }
        return read;
    }

    private void requireKnownNames(long packed) {
        TreeSet<String> there = new TreeSet<>();
        long bytes = 0;
        for (Manifest.Entry entry : manifest.files()) {
            if (entry.name() == null
                    || entry.bytes() < 0
                    || !NAME.matcher(entry.name()).matches()) {
                throw new Refused("exchange.restore.strange-file", String.valueOf(entry.name()));
            }
            there.add(entry.name());
            bytes = Math.addExact(bytes, Math.min(entry.bytes(), MOST_BYTES + 1));
        }
        if (there.size() > MOST_FILES || bytes > MOST_BYTES || bytes / MOST_UNPACKING > packed) {
            throw new Refused("exchange.restore.too-large");
        }
        zip.stream()
                .map(ZipEntry::getName)
                .filter(name -> !name.equals(Manifest.FILE))
                .forEach(name -> {
                    if (!there.remove(name)) {
                        throw new Refused("exchange.restore.strange-file", name);
                    }
                });
        if (!there.isEmpty()) {
            throw new Refused("exchange.restore.missing-file", there.first());
        }
    }

    Manifest manifest() {
        return manifest;
    }

    /** Records of a table, 0 where there is no such file. */
    long rows(String table) {
        Manifest.Entry entry = entries.get("tables/" + table + ".csv");
        return entry == null ? 0 : entry.rows();
    }

    /** Names of the tables that the archive has. */
    List<String> tables() {
        List<String> names = new ArrayList<>();
        for (String name : entries.keySet()) {
            if (name.startsWith("tables/")) {
                names.add(name.substring("tables/".length(), name.length() - ".csv".length()));
            }
        }
        return names;
    }

    boolean has(String file) {
        return entries.containsKey(file);
    }

    /** Reads every file once and compares it with its sum. */
    void requireUndamaged() throws IOException {
        byte[] buffer = new byte[65_536];
        for (String name : entries.keySet()) {
            try (InputStream in = open(name)) {
                while (in.read(buffer) >= 0) {
                    // the stream itself compares at its end
                }
            }
        }
    }

    /** A file's bytes, never more than the manifest says, and compared with its sum at the end. */
    InputStream open(String file) throws IOException {
        Manifest.Entry entry = entries.get(file);
        ZipEntry packed = entry == null ? null : zip.getEntry(file);
        if (entry == null || packed == null) {
            throw new Refused("exchange.restore.missing-file", file);
        }
        return new Checked(zip.getInputStream(packed), entry);
    }

    byte[] bytes(String file) throws IOException {
        try (InputStream in = open(file)) {
            return in.readAllBytes();
        }
    }

    @Override
    public void close() throws IOException {
        zip.close();
    }

    private static final class Checked extends FilterInputStream {
        private final Manifest.Entry entry;
        private final MessageDigest sum = Archive.sha256();
        private long bytes;
        private boolean ended;

        Checked(InputStream in, Manifest.Entry entry) {
            super(in);
            this.entry = entry;
        }

        private boolean isWhole() {
            return bytes == entry.bytes()
                    && HexFormat.of().formatHex(sum.digest()).equals(entry.sha256());
        }

        @Override
        public int read() throws IOException {
            byte[] one = new byte[1];
            return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
        }

        @Override
        public int read(byte[] into, int from, int length) throws IOException {
            if (ended) {
                return -1;
            }
            int read;
            try {
                read = in.read(into, from, length);
            } catch (ZipException damaged) {
                throw new Refused("exchange.restore.damaged", entry.name());
            }
            if (read > 0) {
                sum.update(into, from, read);
                bytes += read;
            }
            ended = read < 0;
            if (bytes > entry.bytes() || (ended && !isWhole())) {
                throw new Refused("exchange.restore.damaged", entry.name());
            }
            return read;
        }
    }
}
