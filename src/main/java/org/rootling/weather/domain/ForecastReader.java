package org.rootling.weather.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Refused;
import org.rootling.weather.domain.Fetcher.Failed;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * Finds days in a JSON answer. A path is names joined by points; {@code []} behind a name goes through its list:
 * {@code daily.lowest} names a list of values, {@code days[].lowest} one value in each of a list of days.
 */
final class ForecastReader {
    private static final JsonMapper JSON = JsonMapper.builder().build();
    private static final int MOST_DAYS = 800;

    private ForecastReader() {}

    /** Whether a path is written as above. */
    static boolean isPath(String path) {
        return path.matches("[A-Za-z0-9_-]{1,60}(\\[])?(\\.[A-Za-z0-9_-]{1,60}(\\[])?){0,8}");
    }

    /** The days of an answer; days without temperatures or with impossible values are left out. */
    static List<DayValues> read(String body, Map<Column, String> paths, FileUnits units) throws Failed {
        JsonNode root;
        try {
            root = JSON.readTree(body);
        } catch (JacksonException notJson) {
            throw new Failed("weather.fetch.not-json");
        }
        Map<Column, List<JsonNode>> found = new EnumMap<>(Column.class);
        for (Map.Entry<Column, String> path : paths.entrySet()) {
            found.put(path.getKey(), values(root, path.getValue()));
        }
        List<JsonNode> dates = found.getOrDefault(Column.DATE, List.of());
        if (dates.isEmpty() || dates.size() > MOST_DAYS) {
            throw new Failed("weather.fetch.no-days");
        }
        for (List<JsonNode> values : found.values()) {
            if (!values.isEmpty() && values.size() != dates.size()) {
                throw new Failed("weather.fetch.uneven");
            }
        }
        List<DayValues> days = new ArrayList<>();
        for (int i = 0; i < dates.size(); i++) {
            DayValues day = day(found, i, units);
            if (day != null) {
                days.add(day);
            }
        }
        if (days.isEmpty()) {
            throw new Failed("weather.fetch.no-days");
        }
        return days;
    }

    private static @Nullable DayValues day(Map<Column, List<JsonNode>> found, int i, FileUnits units) {
        Double low = number(found, Column.LOW, i);
        Double high = number(found, Column.HIGH, i);
        LocalDate date = Cells.date(
                        found.getOrDefault(Column.DATE, List.of()).get(i).asString(""), units.dates())
                .orElse(null);
        if (low == null || high == null || date == null) {
            return null;
        }
        Double rain = number(found, Column.RAIN, i);
        Double wind = number(found, Column.WIND, i);
        Double radiation = number(found, Column.RADIATION, i);
        try {
            return new DayValues(
                    date,
                    DayReader.round(units.temperature().celsius(low), 100),
                    DayReader.round(units.temperature().celsius(high), 100),
                    rain == null ? null : DayReader.round(units.rain().mm(rain), 100),
                    wind == null ? null : DayReader.wind(wind, units),
                    number(found, Column.HUMIDITY, i),
                    number(found, Column.HUMIDITY_HIGH, i),
                    number(found, Column.HUMIDITY_LOW, i),
                    radiation == null ? null : DayReader.round(units.radiation().megajoules(radiation), 100),
                    number(found, Column.SUN, i));
        } catch (Refused impossible) {
            return null;
        }
    }

    private static @Nullable Double number(Map<Column, List<JsonNode>> found, Column column, int i) {
        List<JsonNode> values = found.getOrDefault(column, List.of());
        if (i >= values.size()) {
            return null;
        }
        JsonNode value = values.get(i);
        if (value.isNumber()) {
            return value.doubleValue();
        }
        return value.isString() ? Cells.number(value.asString()).orElse(null) : null;
    }

    private static List<JsonNode> values(JsonNode root, String path) {
        List<JsonNode> nodes = List.of(root);
        for (String name : path.split("\\.", -1)) {
            boolean each = name.endsWith("[]");
            String plain = each ? name.substring(0, name.length() - 2) : name;
            List<JsonNode> next = new ArrayList<>();
            for (JsonNode node : nodes) {
                JsonNode child = node.path(plain);
                if (each && child.isArray()) {
                    child.forEach(next::add);
                } else if (!each) {
                    next.add(child);
                }
            }
            nodes = next;
        }
        if (nodes.size() == 1 && nodes.get(0).isArray()) {
            List<JsonNode> values = new ArrayList<>();
            nodes.get(0).forEach(values::add);
            return values;
        }
        return nodes.stream().allMatch(JsonNode::isMissingNode) ? List.of() : nodes;
    }
}
