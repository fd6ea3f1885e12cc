package org.rootling.trellis.web;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.text.NumberFormat;
import java.util.Locale;
import java.util.Objects;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Measure;
import org.rootling.platform.UnitText;
import org.rootling.trellis.calc.Caution;
import org.rootling.trellis.calc.Fault;
import org.rootling.trellis.calc.Item;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/**
 * Texts of the trellis pages for drawings, files and the names of things. Templates use it as
 * {@code @trellisWords}.
 */
@Component("trellisWords")
class Words {
    /** Cautions and faults whose numbers are all lengths in metres. */
    private static final Set<String> LENGTHS = Set.of(
            "trellis.caution.row-anchored",
            "trellis.caution.row-anchor-small",
            "trellis.caution.depth",
            "trellis.caution.span",
            "trellis.fault.buried",
            "trellis.fault.wire-over-top",
            "trellis.fault.tie-height");

    /** Cautions and faults whose numbers are all forces in newtons. */
    private static final Set<String> FORCES = Set.of("trellis.caution.tension", "trellis.fault.tension");

    /** Decimals of a quantity, as the database keeps them. */
    private static final int DECIMALS = 3;

    private final MessageSource messages;
    private final UnitText units;

    Words(MessageSource messages, UnitText units) {
        this.messages = messages;
        this.units = units;
    }

    public String say(String key, @Nullable Object... args) {
        return Objects.requireNonNull(messages.getMessage(key, args, key, LocaleContextHolder.getLocale()));
    }

    /** A length in the reader's units with centimetres. */
    public String length(double metres) {
        return units.length(metres, 2);
    }

    /** A force in newtons, in the reader's unit, whole. */
    public String force(double newtons) {
        return units.measured(Measure.NEWTON, newtons, 0);
    }

    /** What a wire gains with each kelvin of cold, newtons; with each degree Fahrenheit for who reads those. */
    public String forcePerDegree(double newtonsPerKelvin) {
        double perDegree = newtonsPerKelvin / Measure.KELVIN.seen(1);
        return units.measured(Measure.NEWTON, perDegree, UnitText.us() ? 2 : 1);
    }

    /** A moment in newton metres, in the reader's unit, whole. */
    public String moment(double newtonMetres) {
        return units.measured(Measure.NEWTON_METRE, newtonMetres, 0);
    }

    /** A stress in pascals, in megapascals or the reader's unit. */
    public String stress(double pascals) {
        return units.measured(Measure.MEGAPASCAL, pascals / 1e6, UnitText.us() ? 0 : 1);
    }

    /** A size in metres, in the reader's units, with no more decimals than it needs. */
    public String metres(double metres) {
        return measured(Measure.METRE, metres);
    }

    /** A size in millimetres, in the reader's units. */
    public String millimetres(double millimetres) {
        return measured(Measure.MILLIMETRE, millimetres);
    }

    private String measured(Measure measure, double value) {
        if (!Double.isFinite(value)) {
            return "∞ " + measure.unit();
        }
        BigDecimal shown = measure.shown(BigDecimal.valueOf(value));
        int decimals = measure == Measure.MILLIMETRE ? 3 : 2;
        return plain(shown.setScale(decimals, RoundingMode.HALF_UP)) + " " + measure.unit();
    }

    /** Length and thickness of a post. */
    public String post(double lengthM, double diameterMm) {
        return say("trellis.plan.post-size", length(lengthM), millimetres(diameterMm));
    }

    /** What a caution says, lengths and forces in the reader's units. */
    public String caution(Caution caution) {
        return say(
                caution.code(),
                caution.args().stream()
                        .map(a -> a instanceof Number n ? inUnits(caution.code(), n) : a)
                        .toArray());
    }

    /** The values in a fault's message, whatever is measured in the reader's units. */
    Object[] values(Fault fault) {
        Object[] values = fault.args().toArray();
        Measure field = Measure.ofField(fault.field());
        for (int i = 0; i < values.length; i++) {
            if (values[i] instanceof Number n) {
                values[i] = switch (fault.code()) {
                    case "trellis.fault.range" -> bound(field, n, i == 0);
                    case "trellis.fault.no-post" -> i == 0 && field == null ? plain(n) : metres(n.doubleValue());
                    default -> inUnits(fault.code(), n);
                };
            }
        }
        return values;
    }

    private Object inUnits(String code, Number value) {
        if (LENGTHS.contains(code)) {
            return metres(value.doubleValue());
        }
        return FORCES.contains(code) ? force(value.doubleValue()) : value;
    }

    private Object bound(@Nullable Measure field, Number bound, boolean lower) {
        if (field == null) {
            return plain(bound);
        }
        return (lower ? field.least(bound.doubleValue()) : field.most(bound.doubleValue())).toString();
    }

    /** A number with no more decimals than it needs. */
    public String plain(Number number) {
        Locale locale = LocaleContextHolder.getLocale();
        NumberFormat format = NumberFormat.getNumberInstance(locale);
        format.setMaximumFractionDigits(3);
        return format.format(number);
    }

    /** Name of a thing to buy, with its size. */
    public String name(Item item) {
        String kind = say("trellis.item." + item.kind());
        String steel = item.steel() == null ? "" : say("trellis.steel." + item.steel());
        return switch (item.kind()) {
            case END_POST, LINE_POST, STRUT, RAIL ->
                say("trellis.size.post", kind, metres(item.lengthM()), millimetres(item.diameterMm()));
            case ANCHOR -> say("trellis.size.anchor", kind, metres(item.lengthM()), millimetres(item.diameterMm()));
            case WIRE, TIE_WIRE -> say("trellis.size.wire", kind, millimetres(item.diameterMm()), steel);
            case STAKE -> say("trellis.size.stake", kind, metres(item.lengthM()));
            default -> kind;
        };
    }

    /** Unit of a thing's quantity, the reader's. */
    public String unit(Item item) {
        Measure measure = measure(item);
        return measure == null ? say("trellis.unit.PIECE") : measure.unit();
    }

    /** A quantity of a thing in the reader's unit, written without it. */
    public String quantity(Item item, BigDecimal quantity) {
        BigDecimal shown = shown(item, quantity);
        return plain(UnitText.us() && measure(item) != null ? shown.setScale(1, RoundingMode.HALF_UP) : shown);
    }

    /** What a plan needs of a thing, in the reader's unit, written without it. */
    public String needed(Item item) {
        BigDecimal shown = shown(item, BigDecimal.valueOf(item.quantity()));
        return units.number(shown.doubleValue(), measure(item) == null ? 0 : 1);
    }

    /** A quantity of a thing in the reader's unit, to a thousandth. */
    static BigDecimal shown(Item item, BigDecimal quantity) {
        Measure measure = measure(item);
        return measure == null || !UnitText.us()
                ? quantity
                : measure.shown(quantity).setScale(DECIMALS, RoundingMode.HALF_UP);
    }

    /** A quantity typed in the reader's unit, in ours, to a thousandth: what was shown comes back as it was. */
    static BigDecimal kept(Item item, BigDecimal typed) {
        Measure measure = measure(item);
        return measure == null || !UnitText.us() ? typed : measure.kept(typed).setScale(DECIMALS, RoundingMode.HALF_UP);
    }

    private static @Nullable Measure measure(Item item) {
        return switch (item.kind().unit()) {
            case PIECE -> null;
            case METRE -> Measure.METRE;
            case KILOGRAM -> Measure.KILOGRAM;
        };
    }
}
