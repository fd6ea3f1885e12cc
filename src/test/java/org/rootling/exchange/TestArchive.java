package org.rootling.exchange;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import java.util.zip.ZipOutputStream;
import org.jsoup.nodes.Document;
import org.rootling.people.Role;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestVineyard;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ArrayNode;
import tools.jackson.databind.node.ObjectNode;

/** Takes archives, changes them as an attacker or an accident would, and puts them back through the pages. */
public final class TestArchive {

    private static final JsonMapper JSON = JsonMapper.builder().build();

    private TestArchive() {}

    public static byte[] of(TestVineyard vineyard) {
        return vineyard.as(Role.OWNER).open("/archive.zip").raw().getResponse().getContentAsByteArray();
    }

    public static Map<String, byte[]> files(byte[] archive) throws IOException {
        Map<String, byte[]> files = new LinkedHashMap<>();
        try (ZipInputStream zip = new ZipInputStream(new ByteArrayInputStream(archive))) {
            for (ZipEntry entry = zip.getNextEntry(); entry != null; entry = zip.getNextEntry()) {
                files.put(entry.getName(), zip.readAllBytes());
            }
        }
        return files;
    }

    public static byte[] zip(Map<String, byte[]> files) throws IOException {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        try (ZipOutputStream zip = new ZipOutputStream(out)) {
            for (Map.Entry<String, byte[]> file : files.entrySet()) {
                zip.putNextEntry(new ZipEntry(file.getKey()));
                zip.write(file.getValue());
                zip.closeEntry();
            }
        }
        return out.toByteArray();
    }

    /** Changes the manifest. */
    static void manifest(Map<String, byte[]> files, java.util.function.Consumer<ObjectNode> change) {
        ObjectNode manifest = (ObjectNode) JSON.readTree(files.get("manifest.json"));
        change.accept(manifest);
        files.put("manifest.json", JSON.writeValueAsBytes(manifest));
    }

    /** Replaces a file and, as someone who knows how, its sum in the manifest. */
    static void replace(Map<String, byte[]> files, String name, byte[] content) {
        files.put(name, content);
        manifest(files, manifest -> {
            ArrayNode entries = (ArrayNode) manifest.get("files");
            entries.forEach(entry -> {
                if (entry.get("name").stringValue().equals(name)) {
                    ((ObjectNode) entry).put("bytes", content.length).put("sha256", sum(content));
                }
            });
        });
    }

    static String text(Map<String, byte[]> files, String name) {
        return new String(files.get(name), StandardCharsets.UTF_8);
    }

    private static String sum(byte[] content) {
        try {
            return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(content));
        } catch (java.security.NoSuchAlgorithmException impossible) {
            throw new IllegalStateException(impossible);
        }
    }

    /** Uploads an archive and waits until it was looked at; the page that shows it, and the path of that page. */
    public static Document upload(TestVineyard into, byte[] archive) {
        TestBrowser owner = into.as(Role.OWNER);
        TestBrowser.Answer taken = owner.upload("/archive/restore", "file", "archive.zip", archive);
        if (taken.status() != 302) {
            return taken.page();
        }
        return settled(owner, path(into, taken.location()));
    }

    /** Uploads and puts back; the last page. */
    public static Document putBack(TestVineyard into, byte[] archive) {
        TestBrowser owner = into.as(Role.OWNER);
        TestBrowser.Answer taken = owner.upload("/archive/restore", "file", "archive.zip", archive);
        String path = path(into, taken.location());
        Document looked = settled(owner, path);
        if (looked.select("form[action$=/start]").isEmpty()) {
            return looked;
        }
        owner.sendAndFollow(path + "/start");
        return settled(owner, path);
    }

    private static String path(TestVineyard into, String location) {
        return location.substring(("/v/" + into.slug()).length());
    }

    private static Document settled(TestBrowser owner, String path) {
        for (int i = 0; i < 1200; i++) {
            TestBrowser.Answer page = owner.open(path);
            if (page.raw().getResponse().getHeader("Refresh") == null) {
                return page.page();
            }
            try {
                Thread.sleep(50);
            } catch (InterruptedException stop) {
                throw new IllegalStateException(stop);
            }
        }
        throw new AssertionError("never settled: " + path);
    }
}
