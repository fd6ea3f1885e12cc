package org.rootling.exchange.domain;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.math.BigDecimal;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import javax.xml.stream.XMLInputFactory;
import javax.xml.stream.XMLStreamConstants;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamReader;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Refused;

/**
 * The first sheet of an XLSX workbook as text (ECMA-376, SpreadsheetML): texts, numbers, truth values, and days where
 * the cell's format is one of dates. XML is read without document types and entities, and no part may unpack to more
 * than 20 MB.
 */
final class XlsxReader {

    private static final int MOST_BYTES = 20_000_000;
    private static final int MOST_LINES = ImportTable.MOST_ROWS + 2;
    private static final int MOST_COLUMNS = 200;
    private static final int LONGEST_NUMBER = 60;
    private static final int LARGEST_POWER = 400;
    private static final String SHEET = "xl/worksheets/sheet1.xml";

    private XlsxReader() {}

    static List<List<String>> firstSheet(byte[] workbook) {
        Map<String, byte[]> parts = parts(workbook);
        byte[] sheet = parts.get(SHEET);
        if (sheet == null) {
            throw unreadable();
        }
        try {
            return lines(sheet, texts(parts.get("xl/sharedStrings.xml")), dateStyles(parts.get("xl/styles.xml")));
        } catch (XMLStreamException | NumberFormatException | ArithmeticException broken) {
            throw unreadable();
        }
    }

    private static Refused unreadable() {
        return new Refused("exchange.import.unreadable").at("file");
    }

    private static Map<String, byte[]> parts(byte[] workbook) {
        Map<String, byte[]> parts = new HashMap<>();
        try {
            // By the central directory: writers that stream leave sizes open at the head of a part.
            Path file = Files.createTempFile("rootling-import", ".xlsx");
            try {
                Files.write(file, workbook);
                try (ZipFile zip = new ZipFile(file.toFile())) {
                    for (String name : List.of(SHEET, "xl/sharedStrings.xml", "xl/styles.xml")) {
                        ZipEntry entry = zip.getEntry(name);
                        if (entry != null) {
                            parts.put(name, content(zip, entry));
                        }
                    }
                }
            } finally {
                Files.deleteIfExists(file);
            }
        } catch (IOException | IllegalArgumentException broken) {
            throw unreadable();
        }
        return parts;
    }

    private static byte[] content(ZipFile zip, ZipEntry entry) throws IOException {
        try (InputStream in = zip.getInputStream(entry)) {
            byte[] content = in.readNBytes(MOST_BYTES + 1);
            if (content.length > MOST_BYTES) {
                throw new Refused("platform.error.too-large").at("file");
            }
            return content;
        }
    }

    private static XMLStreamReader xml(byte[] content) throws XMLStreamException {
        XMLInputFactory factory = XMLInputFactory.newFactory();
        factory.setProperty(XMLInputFactory.SUPPORT_DTD, false);
        factory.setProperty(XMLInputFactory.IS_SUPPORTING_EXTERNAL_ENTITIES, false);
        InputStream in = new ByteArrayInputStream(content);
        return factory.createXMLStreamReader(in);
    }

    private static List<String> texts(byte @Nullable [] shared) throws XMLStreamException {
        List<String> texts = new ArrayList<>();
        if (shared == null) {
            return texts;
        }
        XMLStreamReader xml = xml(shared);
        StringBuilder text = new StringBuilder();
        boolean phonetic = false;
        while (xml.hasNext()) {
            int event = xml.next();
            if (event == XMLStreamConstants.START_ELEMENT) {
                String name = xml.getLocalName();
                if (name.equals("si")) {
                    text.setLength(0);
                } else if (name.equals("rPh")) {
                    phonetic = true;
                } else if (name.equals("t") && !phonetic) {
                    text.append(xml.getElementText());
                }
            } else if (event == XMLStreamConstants.END_ELEMENT) {
                if (xml.getLocalName().equals("si")) {
                    texts.add(text.toString());
                } else if (xml.getLocalName().equals("rPh")) {
                    phonetic = false;
                }
            }
        }
        return texts;
    }

    /** Numbers of the cell formats that show days: the built-in ones 14 to 22, and own ones with a year in them. */
    private static Set<Integer> dateStyles(byte @Nullable [] styles) throws XMLStreamException {
        Set<Integer> dates = new HashSet<>();
        if (styles == null) {
            return dates;
        }
        Set<String> formats = new HashSet<>();
        for (int builtIn = 14; builtIn <= 22; builtIn++) {
            formats.add(Integer.toString(builtIn));
        }
        XMLStreamReader xml = xml(styles);
        boolean cells = false;
        int number = 0;
        while (xml.hasNext()) {
            int event = xml.next();
            if (event == XMLStreamConstants.END_ELEMENT && xml.getLocalName().equals("cellXfs")) {
                cells = false;
            } else if (event == XMLStreamConstants.START_ELEMENT) {
                String name = xml.getLocalName();
                if (name.equals("numFmt")
                        && attribute(xml, "formatCode")
                                .toLowerCase(java.util.Locale.ROOT)
                                .contains("yy")) {
                    formats.add(attribute(xml, "numFmtId"));
                } else if (name.equals("cellXfs")) {
                    cells = true;
                } else if (name.equals("xf") && cells) {
                    if (formats.contains(attribute(xml, "numFmtId"))) {
                        dates.add(number);
                    }
                    number++;
                }
            }
        }
        return dates;
    }

    private static String attribute(XMLStreamReader xml, String name) {
        String value = xml.getAttributeValue(null, name);
        return value == null ? "" : value;
    }

    private static List<List<String>> lines(byte[] sheet, List<String> texts, Set<Integer> dates)
            throws XMLStreamException {
        List<List<String>> lines = new ArrayList<>();
        XMLStreamReader xml = xml(sheet);
        List<String> line = new ArrayList<>();
        while (xml.hasNext() && lines.size() < MOST_LINES) {
            int event = xml.next();
            if (event == XMLStreamConstants.START_ELEMENT && xml.getLocalName().equals("row")) {
                line = new ArrayList<>();
            } else if (event == XMLStreamConstants.START_ELEMENT
                    && xml.getLocalName().equals("c")) {
                int column = column(attribute(xml, "r"), line.size());
                String text = ImportTable.requireShort(cell(xml, texts, dates));
                while (line.size() < column && line.size() < MOST_COLUMNS) {
                    line.add("");
                }
                line.add(text.strip());
            } else if (event == XMLStreamConstants.END_ELEMENT
                    && xml.getLocalName().equals("row")) {
                if (line.stream().anyMatch(t -> !t.isEmpty())) {
                    lines.add(line);
                }
            }
        }
        return lines;
    }

    /** The column of a reference such as "AB12"; the next one where the cell has none. */
    private static int column(String reference, int next) {
        int column = 0;
        for (int i = 0; i < reference.length() && i < 3 && Character.isLetter(reference.charAt(i)); i++) {
            column = column * 26 + (Character.toUpperCase(reference.charAt(i)) - 'A' + 1);
        }
        return column == 0 ? next : column - 1;
    }

    private static String cell(XMLStreamReader xml, List<String> texts, Set<Integer> dates) throws XMLStreamException {
        String type = attribute(xml, "t");
        String style = attribute(xml, "s");
        StringBuilder value = new StringBuilder();
        while (xml.hasNext()) {
            int event = xml.next();
            if (event == XMLStreamConstants.START_ELEMENT
                    && (xml.getLocalName().equals("v") || xml.getLocalName().equals("t"))) {
                value.append(xml.getElementText());
            } else if (event == XMLStreamConstants.END_ELEMENT
                    && xml.getLocalName().equals("c")) {
                break;
            }
        }
        String plain = value.toString();
        if (plain.isEmpty()) {
            return "";
        }
        return switch (type) {
            case "s" -> {
                int index = Integer.parseInt(plain.strip());
                yield index >= 0 && index < texts.size() ? texts.get(index) : "";
            }
            case "b" -> plain.strip().equals("1") ? "true" : "false";
            case "", "n" -> !style.isEmpty() && dates.contains(Integer.parseInt(style)) ? day(plain) : number(plain);
            default -> plain;
        };
    }

    private static String number(String text) {
        return decimal(text).stripTrailingZeros().toPlainString();
    }

    /** Cells are double-precision numbers: some 20 signs, powers of ten up to 308. Written out, "1E999999999" would be a GB. */
    private static BigDecimal decimal(String text) {
        String plain = text.strip();
        if (plain.length() > LONGEST_NUMBER) {
            throw new NumberFormatException("too long");
        }
        BigDecimal number = new BigDecimal(plain);
        if (Math.abs(number.scale()) > LARGEST_POWER) {
            throw new NumberFormatException("too large");
        }
        return number;
    }

    /** Days are counted from 30 December 1899 (the format's 1900 system, from 1 March 1900 on). */
    private static String day(String text) {
        long days = decimal(text).longValue();
        return days < 61 || days > 200_000
                ? number(text)
                : LocalDate.of(1899, 12, 30).plusDays(days).toString();
    }
}
