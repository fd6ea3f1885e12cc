package org.rootling.trellis.web;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Measure;
import org.rootling.platform.NumberText;
import org.rootling.trellis.calc.Assembly;
import org.rootling.trellis.calc.Fault;
import org.rootling.trellis.calc.Soil;
import org.rootling.trellis.calc.TrellisSpec;
import org.rootling.trellis.calc.WireKind;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.core.convert.ConversionException;
import org.springframework.core.convert.ConversionService;
import org.springframework.validation.MapBindingResult;

/**
 * The plan's form. Its forty-odd numbers are kept as text under the very paths that the calculator uses to name faults
 * ({@code end.leanDeg}; {@code wires2.tensionN} for the calculator's {@code wires[2].tensionN}, since brackets do not go
 * into an id), so that every fault lands beside the field it was typed into and what was typed stays, readable or not.
 */
final class PlanFields {
    /** Empty lines offered for further wires. */
    private static final int SPARE_WIRES = 2;
    /** More lines than this are not read. */
    private static final int MOST_WIRES = 40;

    private static final Pattern WIRE = Pattern.compile("wires\\[(\\d{1,2})]\\.[a-zA-Z]+");
    private static final int LONGEST_NAME = 40;

    private final Map<String, String> fields = new LinkedHashMap<>();
    private final MapBindingResult errors = new MapBindingResult(fields, "form");
    private final List<Integer> keptWires = new ArrayList<>();

    private PlanFields() {}

    /** The form as it was sent. */
    static PlanFields sent(Map<String, String[]> parameters) {
        PlanFields form = new PlanFields();
        parameters.forEach((name, values) -> {
            if (name.length() <= 40 && values.length > 0) {
                form.fields.put(name, values[0].strip());
            }
        });
        return form;
    }

    /** The form that shows a plan. */
    static PlanFields of(TrellisSpec spec, int version) {
        PlanFields form = new PlanFields();
        form.fields.put("version", Integer.toString(version));
        form.put("end.lengthM", spec.end().lengthM());
        form.put("end.diameterMm", spec.end().diameterMm());
        form.put("end.leanDeg", spec.end().leanDeg());
        form.put("end.buriedM", spec.end().buriedM());
        form.put("end.standAtM", spec.end().standAtM());
        form.put("hold.assembly", spec.hold().assembly());
        form.put("hold.heightM", spec.hold().heightM());
        form.put("hold.distanceM", spec.hold().distanceM());
        form.put("hold.tieKind", spec.hold().tieKind());
        form.put("hold.tieDiameterMm", spec.hold().tieDiameterMm());
        form.put("hold.tieStrands", spec.hold().tieStrands());
        form.put("hold.anchorPlateMm", spec.hold().anchorPlateMm());
        form.put("hold.anchorRodM", spec.hold().anchorRodM());
        form.put("hold.poleDiameterMm", spec.hold().poleDiameterMm());
        form.put("hold.soil", spec.hold().soil());
        form.put("line.lengthM", spec.line().lengthM());
        form.put("line.diameterMm", spec.line().diameterMm());
        form.put("line.buriedM", spec.line().buriedM());
        form.put("line.maxSpanM", spec.line().maxSpanM());
        form.put("line.everyVines", spec.line().everyVines());
        form.put("perVine.stakes", spec.perVine().stakes());
        form.put("perVine.stakeLengthM", spec.perVine().stakeLengthM());
        form.put("perVine.guards", spec.perVine().guards());
        form.put("perVine.clips", spec.perVine().clips());
        form.put("fixing.staplesPerPost", spec.fixing().staplesPerPost());
        form.put("fixing.staplesPerKg", spec.fixing().staplesPerKg());
        form.put("fixing.tensionersPerRun", spec.fixing().tensionersPerRun());
        form.put("fixing.drumMm", spec.fixing().drumMm());
        form.put("air.tightenedC", spec.air().tightenedC());
        form.put("air.coldestC", spec.air().coldestC());
        for (int i = 0; i < spec.wires().size() + SPARE_WIRES; i++) {
            // an empty line is filled in like the last wire but for name and height
            boolean spare = i >= spec.wires().size();
            TrellisSpec.WireLine wire = spec.wires().get(spare ? spec.wires().size() - 1 : i);
            String path = "wires" + i + ".";
            form.put(path + "name", spare ? null : wire.name());
            form.put(path + "heightM", spare ? null : wire.heightM());
            form.put(path + "count", wire.count());
            form.put(path + "kind", wire.kind());
            form.put(path + "diameterMm", wire.diameterMm());
            form.put(path + "tensionN", wire.tensionN());
            form.put(path + "tailM", wire.tailM());
            form.put(path + "coilM", wire.coilM());
            form.put(path + "cropKgPerM", wire.cropKgPerM());
            form.put(path + "windNPerM", wire.windNPerM());
        }
        return form;
    }

    private void put(String path, @Nullable Object value) {
        String text = value == null ? "" : value.toString();
        if (value instanceof Double number) {
            BigDecimal plain = BigDecimal.valueOf(number);
            Measure measure = Measure.ofField(path);
            text = NumberText.write(measure == null ? plain : measure.shown(plain), LocaleContextHolder.getLocale());
        }
        fields.put(path, text);
    }

    Map<String, String> fields() {
        return fields;
    }

    MapBindingResult errors() {
        return errors;
    }

    /** Lines of wire to show: those filled in, and two empty ones. */
    int wireLines() {
        int filled = 0;
        for (int i = 0; i < MOST_WIRES; i++) {
            if (!blankWire(i)) {
                filled = i + 1;
            }
        }
        return Math.min(filled + SPARE_WIRES, MOST_WIRES);
    }

    private boolean blankWire(int index) {
        return text("wires" + index + ".name").isEmpty()
                && text("wires" + index + ".heightM").isEmpty();
    }

    int version(ConversionService conversion) {
        return whole(conversion, "version");
    }

    /** Reads the numbers; what cannot be read is an error at its field and comes out as nothing usable. */
    TrellisSpec read(ConversionService c) {
        TrellisSpec.End end = new TrellisSpec.End(
                number(c, "end.lengthM"),
                number(c, "end.diameterMm"),
                number(c, "end.leanDeg"),
                number(c, "end.buriedM"),
                number(c, "end.standAtM"));
        TrellisSpec.Hold hold = new TrellisSpec.Hold(
                choice("hold.assembly", Assembly.class, Assembly.ANCHORED),
                text("hold.heightM").isEmpty() ? null : number(c, "hold.heightM"),
                number(c, "hold.distanceM"),
                choice("hold.tieKind", WireKind.class, WireKind.MILD_STEEL),
                number(c, "hold.tieDiameterMm"),
                whole(c, "hold.tieStrands"),
                number(c, "hold.anchorPlateMm"),
                number(c, "hold.anchorRodM"),
                number(c, "hold.poleDiameterMm"),
                choice("hold.soil", Soil.class, Soil.LOOSE_SAND));
        TrellisSpec.Line line = new TrellisSpec.Line(
                number(c, "line.lengthM"),
                number(c, "line.diameterMm"),
                number(c, "line.buriedM"),
                number(c, "line.maxSpanM"),
                text("line.everyVines").isEmpty() ? null : whole(c, "line.everyVines"));
        TrellisSpec.PerVine perVine = new TrellisSpec.PerVine(
                whole(c, "perVine.stakes"),
                number(c, "perVine.stakeLengthM"),
                whole(c, "perVine.guards"),
                whole(c, "perVine.clips"));
        TrellisSpec.Fixing fixing = new TrellisSpec.Fixing(
                whole(c, "fixing.staplesPerPost"),
                number(c, "fixing.staplesPerKg"),
                whole(c, "fixing.tensionersPerRun"),
                number(c, "fixing.drumMm"));
        TrellisSpec.Air air = new TrellisSpec.Air(number(c, "air.tightenedC"), number(c, "air.coldestC"));
        return new TrellisSpec(end, hold, line, wires(c), perVine, fixing, air);
    }

    private List<TrellisSpec.WireLine> wires(ConversionService c) {
        List<TrellisSpec.WireLine> wires = new ArrayList<>();
        keptWires.clear();
        for (int i = 0; i < MOST_WIRES; i++) {
            if (blankWire(i)) {
                continue;
            }
            String path = "wires" + i + ".";
            keptWires.add(i);
            wires.add(new TrellisSpec.WireLine(
                    name(path + "name"),
                    number(c, path + "heightM"),
                    whole(c, path + "count"),
                    choice(path + "kind", WireKind.class, WireKind.HIGH_TENSILE),
                    number(c, path + "diameterMm"),
                    number(c, path + "tensionN"),
                    number(c, path + "tailM"),
                    number(c, path + "coilM"),
                    number(c, path + "cropKgPerM"),
                    number(c, path + "windNPerM")));
        }
        return wires;
    }

    /** Puts faults of the numbers beside their fields; lines left empty between wires are counted in. */
    void show(List<Fault> faults, Words words) {
        for (Fault fault : faults) {
            String field = fault.field();
            Matcher wire = WIRE.matcher(field);
            if (wire.matches()) {
                int index = keptWires.get(Integer.parseInt(wire.group(1)));
                field = "wires" + index + field.substring(field.indexOf('.'));
            }
            if (fields.containsKey(field)) {
                errors.rejectValue(field, fault.code(), words.values(fault), fault.code());
            } else {
                errors.reject(fault.code(), words.values(fault), fault.code());
            }
        }
    }

    private String text(String path) {
        return fields.getOrDefault(path, "");
    }

    private String name(String path) {
        String text = text(path);
        if (text.isEmpty()) {
            errors.rejectValue(path, "trellis.fault.missing");
        } else if (text.length() > LONGEST_NAME) {
            errors.rejectValue(path, "trellis.fault.too-long", new Object[] {LONGEST_NAME}, null);
        }
        return text;
    }

    private double number(ConversionService conversion, String path) {
        BigDecimal value = convert(conversion, path, BigDecimal.class);
        if (value == null) {
            return Double.NaN;
        }
        Measure measure = Measure.ofField(path);
        return (measure == null ? value : measure.kept(value)).doubleValue();
    }

    private int whole(ConversionService conversion, String path) {
        Integer value = convert(conversion, path, Integer.class);
        return value == null ? Integer.MIN_VALUE : value;
    }

    private <T> @Nullable T convert(ConversionService conversion, String path, Class<T> type) {
        String text = text(path);
        if (text.isEmpty()) {
            errors.rejectValue(path, "trellis.fault.missing");
            return null;
        }
        try {
            return conversion.convert(text, type);
        } catch (ConversionException unreadable) {
            errors.rejectValue(path, "typeMismatch." + type.getName());
            return null;
        }
    }

    private <E extends Enum<E>> E choice(String path, Class<E> type, E otherwise) {
        try {
            return Enum.valueOf(type, text(path));
        } catch (IllegalArgumentException unknown) {
            errors.rejectValue(path, "trellis.fault.missing");
            return otherwise;
        }
    }
}
