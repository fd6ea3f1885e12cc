package org.rootling.platform;

import jakarta.servlet.http.HttpServletRequest;
import java.text.Collator;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.web.context.request.RequestContextHolder;
import org.springframework.web.context.request.ServletRequestAttributes;
import org.springframework.web.servlet.support.RequestContextUtils;
import org.springframework.web.util.UriComponentsBuilder;

/**
 * A list of a page as the request asks for it: narrowed to lines that hold all of the words, sorted by a column, a page at
 * a time, and whole as a file. Its columns are told one by one; {@code fragments/list} shows the tools and the pages.
 * Works without scripts. The request's parameters begin with the list's name, so that a page may have several.
 */
public final class Listing<T> {

    /** Lines of a page. */
    public static final int PAGE = 50;

    private static final int LONGEST = 100;

    /** A value that the reader sees as a word of the message files. */
    public record Word(String key) {}

    /** A parameter of the page that the tools of this list leave as it is. */
    public record Kept(String name, String value) {}

    /** An order that can be chosen. */
    public record Choice(String value, String key, boolean falling) {}

    private record Column<L>(String key, Function<? super L, ? extends @Nullable Object> value) {}

    private final String name;
    private final List<T> all;
    private final HttpServletRequest request;
    private final @Nullable MessageSource messages;
    private final Locale locale = LocaleContextHolder.getLocale();
    private final List<Column<T>> columns = new ArrayList<>();
    private int size = PAGE;
    private @Nullable List<T> found;

    private Listing(String name, List<T> all, HttpServletRequest request) {
        this.name = name;
        this.all = List.copyOf(all);
        this.request = request;
        this.messages = RequestContextUtils.findWebApplicationContext(request);
    }

    /** A list by its name on the page, a plain word. */
    public static <T> Listing<T> of(String name, List<T> all) {
        ServletRequestAttributes now =
                (ServletRequestAttributes) Objects.requireNonNull(RequestContextHolder.getRequestAttributes());
        return new Listing<>(name, all, now.getRequest());
    }

    /** One more column: the message key of its heading, and its value (text, number, date, {@link Word} or nothing). */
    public Listing<T> by(String key, Function<? super T, ? extends @Nullable Object> value) {
        columns.add(new Column<>(key, value));
        return this;
    }

    /** Shows so many lines on a page. */
    public Listing<T> pagesOf(int lines) {
        this.size = lines;
        return this;
    }

    public String name() {
        return name;
    }

    /** Lines in the whole list. */
    public int all() {
        return all.size();
    }

    /** What is looked for. */
    public String find() {
        String asked = request.getParameter(name + "-find");
        return asked == null
                ? ""
                : asked.substring(0, Math.min(LONGEST, asked.length())).strip();
    }

    /** The order asked for: the number of a column from 1, with a minus in front where falling; "" as it is. */
    public String sort() {
        String asked = request.getParameter(name + "-sort");
        return asked != null && choices().stream().anyMatch(c -> c.value().equals(asked)) ? asked : "";
    }

    /** The orders there are. */
    public List<Choice> choices() {
        List<Choice> choices = new ArrayList<>();
        for (int i = 0; i < columns.size(); i++) {
            choices.add(new Choice(Integer.toString(i + 1), columns.get(i).key(), false));
            choices.add(new Choice(Integer.toString(-i - 1), columns.get(i).key(), true));
        }
        return choices;
    }

    /** Lines that hold what is looked for, in the order asked for. */
    public List<T> found() {
        List<T> known = found;
        if (known == null) {
            known = search();
            found = known;
        }
        return known;
    }

    private List<T> search() {
        List<String> words = List.of(find().toLowerCase(locale).split("\\s+", -1));
        List<T> fitting = new ArrayList<>(all.stream()
                .filter(line -> find().isEmpty() || words.stream().allMatch(hay(line)::contains))
                .toList());
        String sort = sort();
        if (!sort.isEmpty()) {
            int column = Integer.parseInt(sort);
            Function<? super T, ? extends @Nullable Object> value =
                    columns.get(Math.abs(column) - 1).value();
            Collator collator = Collator.getInstance(locale);
            Comparator<T> rising = (a, b) -> compare(value.apply(a), value.apply(b), collator);
            fitting.sort(column > 0 ? rising : rising.reversed());
        }
        return List.copyOf(fitting);
    }

    private String hay(T line) {
        StringBuilder hay = new StringBuilder();
        for (Column<T> column : columns) {
            Object value = column.value().apply(line);
            hay.append(text(value)).append('\n');
            if (value instanceof LocalDate day) {
                hay.append(day).append('\n');
            }
        }
        return hay.toString().toLowerCase(locale);
    }

    private int compare(@Nullable Object a, @Nullable Object b, Collator collator) {
        if (a == null || b == null) {
            return a == null ? (b == null ? 0 : 1) : -1;
        }
        if (a instanceof Number one && b instanceof Number other) {
            return Double.compare(one.doubleValue(), other.doubleValue());
        }
        if (a instanceof LocalDate one && b instanceof LocalDate other) {
            return one.compareTo(other);
        }
        return collator.compare(text(a), text(b));
    }

    private String text(@Nullable Object value) {
        if (value == null) {
            return "";
        }
        if (value instanceof Word word) {
            return words(word.key());
        }
        if (value instanceof LocalDate day) {
            return DateText.format(day, "d MMM yyyy", locale);
        }
        return value.toString();
    }

    private String words(String key) {
        String words = messages == null ? null : messages.getMessage(key, null, key, locale);
        return words == null ? key : words;
    }

    public int pages() {
        return Math.max(1, (found().size() + size - 1) / size);
    }

    /** The page shown, from 1. */
    public int page() {
        String asked = request.getParameter(name + "-page");
        int wanted = asked != null && asked.matches("\\d{1,6}") ? Integer.parseInt(asked) : 1;
        return Math.max(1, Math.min(pages(), wanted));
    }

    /** The lines of the page shown. */
    public List<T> shown() {
        int from = (page() - 1) * size;
        return found().subList(from, Math.min(found().size(), from + size));
    }

    /** The address of the page of which this list is a part, without parameters. */
    public String path() {
        return request.getRequestURI();
    }

    /** Parameters of the page that are not of this list. */
    public List<Kept> kept() {
        List<Kept> kept = new ArrayList<>();
        for (Map.Entry<String, String[]> parameter : request.getParameterMap().entrySet()) {
            String of = parameter.getKey();
            boolean ours = of.equals("list-csv") || of.equals("list-xlsx") || of.startsWith(name + "-");
            for (String value : ours ? new String[0] : parameter.getValue()) {
                kept.add(new Kept(of, value));
            }
        }
        return kept;
    }

    /** The address of another page of this list. */
    public String at(int page) {
        UriComponentsBuilder address = UriComponentsBuilder.fromPath(path());
        kept().forEach(p -> address.queryParam(p.name(), encoded(p.value())));
        if (!find().isEmpty()) {
            address.queryParam(name + "-find", encoded(find()));
        }
        if (!sort().isEmpty()) {
            address.queryParam(name + "-sort", sort());
        }
        return address.queryParam(name + "-page", page).build(true).toUriString();
    }

    private static String encoded(String value) {
        return org.springframework.web.util.UriUtils.encode(value, java.nio.charset.StandardCharsets.UTF_8);
    }

    /** Headings of the whole list as a file. */
    public List<String> headings() {
        return columns.stream().map(column -> words(column.key())).toList();
    }

    /** All lines found, as cells of text, numbers and dates. */
    public List<List<@Nullable Object>> cells() {
        List<List<@Nullable Object>> lines = new ArrayList<>();
        for (T line : found()) {
            List<@Nullable Object> cells = new ArrayList<>();
            for (Column<T> column : columns) {
                Object value = column.value().apply(line);
                cells.add(value instanceof Word word ? words(word.key()) : value);
            }
            lines.add(cells);
        }
        return lines;
    }
}
