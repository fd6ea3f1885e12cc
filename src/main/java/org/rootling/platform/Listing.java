package org.rootling.platform;

import jakarta.servlet.http.HttpServletRequest;
import java.text.Collator;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.Iterator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.NoSuchElementException;
import java.util.Objects;
import java.util.function.Function;
import java.util.stream.Stream;
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
 * Works without scripts. The request's parameters begin with the list's name, so that a page may have several. A list
 * too long to be read whole comes from a {@link Source}, piece by piece.
 */
public final class Listing<T> {

    /** Lines of a page. */
    public static final int PAGE = 50;

    /** Lines of a file from a {@link Source}; a last line says where a list goes on. */
    static final int MOST_OF_A_SOURCE = 100_000;

    /** As many lines need no tools in sight. */
    private static final int GLANCE = 12;

    static final int LONGEST = 100;
    private static final int PIECE = 5_000;

    /** What is wanted of a source: words to look for, the order, and so many lines after those of an earlier piece. */
    public record Wanted(String find, String sort, @Nullable String after, int most) {}

    /**
     * Some lines of a source.
     *
     * @param next where to go on; null where nothing follows
     */
    public record Piece<L>(List<L> lines, @Nullable String next) {}

    /** Where a list too long to be read whole comes from. */
    public interface Source<L> {
        Piece<L> read(Wanted wanted);
    }

    /** Reads lines from an offset on; one more than the most that is wanted says that there are more. */
    public interface Lines<L> {
        List<L> read(Wanted wanted, int from);
    }

    /** A source that counts its lines; not farther than a reader or a file goes. */
    public static <L> Source<L> byOffset(Lines<L> lines) {
        return wanted -> {
            String after = wanted.after();
            int from = after != null && after.matches("\\d{1,6}") ? Integer.parseInt(after) : 0;
            List<L> read = lines.read(wanted, from);
            boolean more = read.size() > wanted.most() && from + wanted.most() <= MOST_OF_A_SOURCE;
            return new Piece<>(
                    read.subList(0, Math.min(read.size(), wanted.most())),
                    more ? Integer.toString(from + wanted.most()) : null);
        };
    }

    /** A value that the reader sees as words of the message files, perhaps with a name in them. */
    public record Word(String key, List<String> args) {

        public Word(String key) {
            this(key, List.of());
        }
    }

    /** A parameter of the page that the tools of this list leave as it is. */
    public record Kept(String name, String value) {}

    private record Column<L>(
            String key, List<? extends Object> args, Function<? super L, ? extends @Nullable Object> value) {}

    private record Sum(String label, @Nullable Object amount) {}

    private final String name;
    private final List<T> all;
    private final @Nullable Source<T> source;
    private final HttpServletRequest request;
    private final @Nullable MessageSource messages;
    private final Locale locale = LocaleContextHolder.getLocale();
    private final List<Column<T>> columns = new ArrayList<>();
    private final List<Sum> sums = new ArrayList<>();
    private int size = PAGE;
    private String path;
    private boolean searched = true;
    private int ordered = -1;
    private @Nullable List<T> found;
    private @Nullable Piece<T> piece;

    private Listing(String name, List<T> all, @Nullable Source<T> source, HttpServletRequest request) {
        this.name = name;
        this.all = List.copyOf(all);
        this.source = source;
        this.request = request;
        this.path = request.getRequestURI();
        this.messages = RequestContextUtils.findWebApplicationContext(request);
    }

    /** A list by its name on the page, a plain word. */
    public static <T> Listing<T> of(String name, List<T> all) {
        return new Listing<>(name, all, null, request());
    }

    /** A list that is read piece by piece; it can be ordered by the columns up to {@link #orderedByThose} only. */
    public static <T> Listing<T> from(String name, Source<T> source) {
        Listing<T> listing = new Listing<>(name, List.of(), source, request());
        listing.ordered = 0;
        return listing;
    }

    private static HttpServletRequest request() {
        ServletRequestAttributes now =
                (ServletRequestAttributes) Objects.requireNonNull(RequestContextHolder.getRequestAttributes());
        return now.getRequest();
    }

    /**
     * One more column: the message key of its heading, and its value (text, number, date, day and time, {@link Word} or
     * nothing).
     */
    public Listing<T> by(String key, Function<? super T, ? extends @Nullable Object> value) {
        columns.add(new Column<>(key, List.of(), value));
        return this;
    }

    /** One more column whose heading says the unit of its values. */
    public Listing<T> by(String key, String unit, Function<? super T, ? extends @Nullable Object> value) {
        columns.add(new Column<>(key, List.of(unit), value));
        return this;
    }

    /**
     * A line below all others of a file: what it says in the first column, and its amount in the last. A narrowed file has
     * none, since the amount is one of all lines.
     */
    public Listing<T> sum(String label, @Nullable Object amount) {
        sums.add(new Sum(label, amount));
        return this;
    }

    /** The source of this list can order by the columns told so far. */
    public Listing<T> orderedByThose() {
        this.ordered = columns.size();
        return this;
    }

    /** The source of this list looks for no words: the page has choices of its own. */
    public Listing<T> notSearched() {
        this.searched = false;
        return this;
    }

    boolean isSearched() {
        return searched;
    }

    /** The address of the page, where a form of the page is sent elsewhere and its errors are shown there. */
    public Listing<T> on(String address) {
        this.path = address;
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

    /** Whether there is nothing to list, whatever is asked for. */
    public boolean isEmpty() {
        return source == null
                ? all.isEmpty()
                : shown().isEmpty() && find().isEmpty() && after() == null && next() == null;
    }

    /** Whether there is enough to be narrowed and sorted, or a sum to take along. */
    boolean isWorthTools() {
        return source == null ? all.size() > (sums.isEmpty() ? 1 : 0) : !isEmpty();
    }

    /** Whether something of this list was asked for, so that what folds it away should be open. */
    public boolean isAsked() {
        return request.getParameterMap().keySet().stream().anyMatch(of -> of.startsWith(name + "-"));
    }

    /** Whether the tools lie open: where there are too many lines to take in at a glance, or some were asked for. */
    boolean isOpen() {
        return source != null || all.size() > GLANCE || isAsked();
    }

    /** What is looked for. */
    public String find() {
        String asked = searched ? request.getParameter(name + "-find") : null;
        return asked == null
                ? ""
                : asked.substring(0, Math.min(LONGEST, asked.length()))
                        .replaceAll("\\p{Cntrl}", " ")
                        .strip();
    }

    /** The order asked for: the number of a column from 1, with a minus in front where falling; "" as it is. */
    public String sort() {
        String asked = request.getParameter(name + "-sort");
        return asked != null && orders().contains(asked) ? asked : "";
    }

    private List<String> orders() {
        List<String> orders = new ArrayList<>();
        for (int i = 1; i <= (ordered < 0 ? columns.size() : ordered); i++) {
            orders.add(Integer.toString(i));
            orders.add(Integer.toString(-i));
        }
        return orders;
    }

    /** Whether there is an order to choose. */
    boolean isSorted() {
        return ordered != 0 && !columns.isEmpty();
    }

    /** Takes an order there is, what it is called, and whether it is the one asked for. */
    interface Orders {
        void take(String order, String text, boolean chosen);
    }

    /** Tells the orders there are, "" for the lines as they are among them. */
    void orders(Orders taker) {
        String chosen = sort();
        taker.take("", words("platform.list.sort") + ": " + words("platform.list.as-is"), chosen.isEmpty());
        for (String order : orders()) {
            boolean falling = order.startsWith("-");
            String heading = heading(columns.get(Math.abs(Integer.parseInt(order)) - 1));
            taker.take(
                    order, falling ? heading + ", " + words("platform.list.falling") : heading, order.equals(chosen));
        }
    }

    /** Find, sort and take along, in HTML; nothing where there is nothing to do so with. */
    public String tools() {
        return new ListTools(this, this::words).write();
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
        if (find().isEmpty() && sort().isEmpty()) {
            return all;
        }
        List<String> words = FoldedText.words(find());
        List<T> fitting = new ArrayList<>(all.stream()
                .filter(line -> words.isEmpty() || words.stream().allMatch(hay(line)::contains))
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
            if (value instanceof LocalDate || value instanceof LocalDateTime) {
                hay.append(value).append('\n');
            }
            if (value instanceof Number number && Double.isFinite(number.doubleValue())) {
                hay.append(NumberText.write(new java.math.BigDecimal(number.toString()), locale))
                        .append('\n');
            }
        }
        return FoldedText.of(hay.toString());
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
        if (a instanceof LocalDateTime one && b instanceof LocalDateTime other) {
            return one.compareTo(other);
        }
        return collator.compare(text(a), text(b));
    }

    private String text(@Nullable Object value) {
        if (value == null) {
            return "";
        }
        if (value instanceof Word word) {
            return words(word.key(), word.args().toArray());
        }
        if (value instanceof LocalDate day) {
            return DateText.format(day, "d MMM yyyy", locale);
        }
        if (value instanceof LocalDateTime time) {
            return DateText.format(time, "d MMM yyyy HH:mm", locale);
        }
        return value.toString();
    }

    private String heading(Column<T> column) {
        return words(column.key(), column.args().toArray());
    }

    private String words(String key, Object... args) {
        String words = messages == null ? null : messages.getMessage(key, args, key, locale);
        return words == null ? key : words;
    }

    /** Where the piece shown begins in a source; null for its beginning. */
    public @Nullable String after() {
        String asked = source == null ? null : request.getParameter(name + "-after");
        return asked == null || asked.isBlank() ? null : asked;
    }

    /** Where the next piece of a source begins; null where nothing follows, or the list is no source's. */
    public @Nullable String next() {
        return source == null ? null : piece(source).next();
    }

    private Piece<T> piece(Source<T> from) {
        Piece<T> known = piece;
        if (known == null) {
            known = from.read(new Wanted(find(), sort(), after(), size));
            piece = known;
        }
        return known;
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
        if (source != null) {
            return piece(source).lines();
        }
        int from = (page() - 1) * size;
        return found().subList(from, Math.min(found().size(), from + size));
    }

    /** The address of the page of which this list is a part, without parameters. */
    public String path() {
        return path;
    }

    /** Parameters of the page that are not of this list. */
    public List<Kept> kept() {
        List<Kept> kept = new ArrayList<>();
        if (!request.getMethod().equals("GET")) {
            // the fields of a form that was refused are no choices of the page
            return kept;
        }
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
        return address().queryParam(name + "-page", page).build(true).toUriString();
    }

    /** The address of the piece that follows; of the first one where none does. */
    public String onward() {
        String next = next();
        UriComponentsBuilder address = address();
        return (next == null ? address : address.queryParam(name + "-after", encoded(next)))
                .build(true)
                .toUriString();
    }

    /** The address of the first piece. */
    public String first() {
        return address().build(true).toUriString();
    }

    private UriComponentsBuilder address() {
        UriComponentsBuilder address = UriComponentsBuilder.fromPath(path());
        kept().forEach(p -> address.queryParam(p.name(), encoded(p.value())));
        if (!find().isEmpty()) {
            address.queryParam(name + "-find", encoded(find()));
        }
        if (!sort().isEmpty()) {
            address.queryParam(name + "-sort", sort());
        }
        return address;
    }

    private static String encoded(String value) {
        return org.springframework.web.util.UriUtils.encode(value, java.nio.charset.StandardCharsets.UTF_8);
    }

    /** Headings of the whole list as a file. */
    public List<String> headings() {
        return columns.stream().map(this::heading).toList();
    }

    /** All lines found, as cells of text, numbers, dates and times; read while they are taken. */
    public Iterator<List<@Nullable Object>> cells() {
        Source<T> from = source;
        if (from != null) {
            return pieces(from);
        }
        Stream<Sum> below = find().isEmpty() ? sums.stream() : Stream.empty();
        return Stream.concat(found().stream().map(this::cells), below.map(this::cells))
                .iterator();
    }

    private List<@Nullable Object> cells(Sum sum) {
        List<@Nullable Object> cells = new ArrayList<>(Collections.nCopies(columns.size(), null));
        cells.set(0, sum.label());
        cells.set(columns.size() - 1, sum.amount());
        return cells;
    }

    private Iterator<List<@Nullable Object>> pieces(Source<T> from) {
        return new Iterator<>() {
            private Piece<T> read = from.read(new Wanted(find(), sort(), null, PIECE));
            private int next;
            private int taken;

            @Override
            public boolean hasNext() {
                // a piece may be empty and yet not the last
                while (next == read.lines().size() && read.next() != null) {
                    read = from.read(new Wanted(find(), sort(), read.next(), PIECE));
                    next = 0;
                }
                return taken <= MOST_OF_A_SOURCE && next < read.lines().size();
            }

            @Override
            public List<@Nullable Object> next() {
                if (!hasNext()) {
                    throw new NoSuchElementException();
                }
                T line = read.lines().get(next++);
                return taken++ < MOST_OF_A_SOURCE ? cells(line) : List.of(words("platform.list.goes-on"));
            }
        };
    }

    private List<@Nullable Object> cells(T line) {
        List<@Nullable Object> cells = new ArrayList<>();
        for (Column<T> column : columns) {
            Object value = column.value().apply(line);
            cells.add(value instanceof Word word ? words(word.key(), word.args().toArray()) : value);
        }
        return cells;
    }
}
