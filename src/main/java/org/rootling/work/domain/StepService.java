package org.rootling.work.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.text.Normalizer;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Ids;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.platform.Stale;
import org.rootling.work.Step;
import org.rootling.work.Steps;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

@Service
@Transactional
class StepService implements Steps {
    private final JdbcClient jdbc;
    private final MessageSource messages;

    StepService(JdbcClient jdbc, MessageSource messages) {
        this.jdbc = jdbc;
        this.messages = messages;
    }

    @Override
    @Transactional(readOnly = true)
    public List<Step> all() {
        Map<String, Step> changed = new HashMap<>();
        List<Step> own = new ArrayList<>();
        List<Step> rows = jdbc.sql("select * from work_step order by code")
                .query(this::row)
                .list();
        for (Step s : rows) {
            if (s.builtIn()) {
                changed.put(s.code(), s);
            } else {
                own.add(s);
            }
        }
        List<Step> all = Stream.concat(
                        Arrays.stream(BuiltInStep.values()).map(b -> changed.getOrDefault(b.name(), unchanged(b))),
                        own.stream())
                .toList();
        return Stream.concat(
                        all.stream().filter(s -> !s.withdrawn()), all.stream().filter(Step::withdrawn))
                .toList();
    }

    @Override
    @Transactional(readOnly = true)
    public Optional<Step> byCode(String code) {
        return all().stream().filter(s -> s.code().equals(code)).findFirst();
    }

    @Override
    public String add(Settings settings) {
        String name = settings.name() == null ? "" : settings.name().strip();
        if (name.isEmpty()) {
            throw new Refused("work.steps.no-name").at("name");
        }
        String plain = Normalizer.normalize(name, Normalizer.Form.NFD)
                .replaceAll("[^A-Za-z0-9]+", "_")
                .toUpperCase(Locale.ROOT);
        String code = "OWN_" + plain.substring(0, Math.min(24, plain.length()));
        check(code, settings);
        if (byCode(code).isPresent()) {
            throw new Refused("work.steps.name-taken", name).at("name");
        }
        insert(code, settings, false);
        return code;
    }

    @Override
    public void change(String code, Settings settings, int version) {
        Step before = byCode(code).orElseThrow(() -> new NotFound("step"));
        check(code, settings);
        int changed = jdbc.sql("""
                        update work_step set name = :name, people_least = :least, people_most = :most, tool = :tool,
                          skill = :skill, after_steps = :after, wait_days = :wait, outdoors = :outdoors,
                          most_rain_mm = :rain, least_temp_c = :low, most_wind_ms = :wind, guess_minutes = :guess, withdrawn_at = null, version = version + 1
                         where code = :code and version = :version""")
                .params(params(code, settings))
                .param("version", version)
                .update();
        if (changed == 0) {
            if (before.version() != version || !before.builtIn()) {
                throw new Stale(version, before.version());
            }
            insert(code, settings, false);
        }
    }

    @Override
    public void withdraw(String code, int version) {
        Step step = byCode(code).orElseThrow(() -> new NotFound("step"));
        int changed = jdbc.sql("update work_step set withdrawn_at = now(), version = version + 1"
                        + " where code = :code and version = :version")
                .param("code", code)
                .param("version", version)
                .update();
        if (changed == 0) {
            if (step.version() != version || !step.builtIn()) {
                throw new Stale(version, step.version());
            }
            insert(
                    code,
                    new Settings(
                            null,
                            step.peopleLeast(),
                            step.peopleMost(),
                            step.tool(),
                            step.skill(),
                            step.after(),
                            step.waitDays(),
                            step.outdoors(),
                            step.limits(),
                            step.guessMinutes()),
                    true);
        }
    }

    private void check(String code, Settings s) {
        if (s.peopleMost() < s.peopleLeast()) {
            throw new Refused("work.steps.people", s.peopleLeast(), s.peopleMost()).at("peopleMost");
        }
        Map<String, Step> known = new HashMap<>();
        all().forEach(k -> known.put(k.code(), k));
        for (String before : s.after()) {
            if (!known.containsKey(before)) {
                throw new Refused("work.steps.unknown", before).at("after");
            }
            if (leads(before, code, known, 0)) {
                throw new Refused("work.steps.circle", known.get(before).name()).at("after");
            }
        }
    }

    /** Whether a step waits, at whatever distance, for another. */
    private static boolean leads(String from, String to, Map<String, Step> known, int depth) {
        Step step = known.get(from);
        return from.equals(to)
                || (step != null && depth < 50 && step.after().stream().anyMatch(a -> leads(a, to, known, depth + 1)));
    }

    private void insert(String code, Settings s, boolean withdrawn) {
        jdbc.sql("""
                        insert into work_step (id, code, name, people_least, people_most, tool, skill, after_steps,
                          wait_days, outdoors, most_rain_mm, least_temp_c, most_wind_ms, guess_minutes, withdrawn_at, version)
                        values (:id, :code, :name, :least, :most, :tool, :skill, :after, :wait, :outdoors, :rain, :low, :wind, :guess,
                          case when :withdrawn then now() end, 1)""")
                .params(params(code, s))
                .param("id", Ids.next())
                .param("withdrawn", withdrawn)
                .update();
    }

    private static Map<String, @Nullable Object> params(String code, Settings s) {
        Map<String, @Nullable Object> p = new HashMap<>();
        p.put("code", code);
        p.put("name", blank(s.name()));
        p.put("least", s.peopleLeast());
        p.put("most", s.peopleMost());
        p.put("tool", blank(s.tool()));
        p.put("skill", blank(s.skill()));
        p.put("after", s.after().toArray(String[]::new));
        p.put("wait", s.waitDays());
        p.put("outdoors", s.outdoors());
        p.put("rain", s.limits().rainMm());
        p.put("low", s.limits().lowC());
        p.put("wind", s.limits().windMs());
        p.put("guess", s.guessMinutes());
        return p;
    }

    private static @Nullable String blank(@Nullable String text) {
        return text == null || text.isBlank() ? null : text.strip();
    }

    private Step unchanged(BuiltInStep b) {
        return new Step(
                b.name(),
                text(b.nameKey()),
                b.wholeRow,
                b.peopleLeast,
                b.peopleMost,
                b.tool,
                null,
                b.after(),
                b.waitDays,
                true,
                Step.Limits.NONE,
                null,
                b.caution(),
                true,
                false,
                0);
    }

    private Step row(ResultSet r, int n) throws SQLException {
        String code = r.getString("code");
        BuiltInStep b = Arrays.stream(BuiltInStep.values())
                .filter(s -> s.name().equals(code))
                .findFirst()
                .orElse(null);
        String name = r.getString("name");
        return new Step(
                code,
                name != null ? name : b != null ? text(b.nameKey()) : code,
                b != null && b.wholeRow,
                r.getInt("people_least"),
                r.getInt("people_most"),
                r.getString("tool"),
                r.getString("skill"),
                List.of((String[]) r.getArray("after_steps").getArray()),
                r.getInt("wait_days"),
                r.getBoolean("outdoors"),
                new Step.Limits(
                        r.getBigDecimal("most_rain_mm"),
                        r.getBigDecimal("least_temp_c"),
                        r.getBigDecimal("most_wind_ms")),
                r.getBigDecimal("guess_minutes"),
                b == null ? null : b.caution(),
                b != null,
                r.getTimestamp("withdrawn_at") != null,
                r.getInt("version"));
    }

    private String text(String key) {
        return Objects.requireNonNull(messages.getMessage(key, null, key, LocaleContextHolder.getLocale()));
    }
}
