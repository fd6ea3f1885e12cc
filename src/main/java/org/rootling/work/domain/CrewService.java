package org.rootling.work.domain;

import java.math.BigDecimal;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Guests;
import org.rootling.people.Members;
import org.rootling.platform.Ids;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.platform.Stale;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Who can be given work, when, and what it costs; and the tools there are. */
@Service
@Transactional
public class CrewService {
    private static final int MOST_DAYS_OFF = 366;

    private final JdbcClient jdbc;
    private final Guests guests;
    private final Members members;

    CrewService(JdbcClient jdbc, Guests guests, Members members) {
        this.jdbc = jdbc;
        this.guests = guests;
        this.members = members;
    }

    /**
     * Somebody who can be given work.
     *
     * @param account null for a helper without one
     * @param shown the name, marked where somebody else has the same
     * @param hours by weekday, Monday first
     * @param wage for an hour; null for unpaid work
     */
    public record Person(
            UUID id,
            @Nullable UUID account,
            String name,
            String shown,
            List<BigDecimal> hours,
            List<String> skills,
            @Nullable BigDecimal wage,
            String currency,
            List<LocalDate> daysOff,
            List<String> wishes,
            int version) {
        public Person {
            hours = List.copyOf(hours);
            skills = List.copyOf(skills);
            daysOff = List.copyOf(daysOff);
            wishes = List.copyOf(wishes);
        }

        /** Hours in a week without days off. */
        public BigDecimal week() {
            return hours.stream().reduce(BigDecimal.ZERO, BigDecimal::add);
        }
    }

    /** A tool, of which there are so many. */
    public record ToolCount(UUID id, String name, int count) {}

    /** Those present, by name. */
    @Transactional(readOnly = true)
    public List<Person> people() {
        Map<UUID, List<LocalDate>> off = new HashMap<>();
        jdbc.sql("select person_id, day from work_day_off order by day")
                .query((r, n) -> off.computeIfAbsent(r.getObject("person_id", UUID.class), k -> new ArrayList<>())
                        .add(r.getObject("day", LocalDate.class)))
                .list();
        Map<UUID, String> names = names();
        return jdbc.sql("select * from work_person where withdrawn_at is null order by lower(name), id")
                .query((r, n) -> person(r, names, off))
                .list();
    }

    /**
     * Names to show, by person, of those who do not come any more too. No two are the same: whoever logs with an account is
     * called as their account is; of others with a name that is taken, the next gets a number.
     */
    @Transactional(readOnly = true)
    public Map<UUID, String> names() {
        record Known(UUID id, @Nullable UUID account, String name) {}
        Map<UUID, String> accounts = members.names();
        Set<String> taken = new HashSet<>();
        accounts.values().forEach(name -> taken.add(plain(name)));
        Map<UUID, String> names = new LinkedHashMap<>();
        List<Known> others = new ArrayList<>();
        jdbc.sql("select id, coalesce(account_id, former_account) as account_id, name from work_person order by id")
                .query((r, n) -> new Known(
                        r.getObject("id", UUID.class), r.getObject("account_id", UUID.class), r.getString("name")))
                .list()
                .forEach(p -> {
                    String account = p.account() == null ? null : accounts.get(p.account());
                    if (account != null && plain(account).matches(Pattern.quote(plain(p.name())) + "( \\(\\d+\\))?")) {
                        names.put(p.id(), account);
                    } else {
                        others.add(p);
                    }
                });
        for (Known p : others) {
            String shown = p.name();
            for (int n = 2; !taken.add(plain(shown)); n++) {
                shown = p.name() + " (" + n + ")";
            }
            names.put(p.id(), shown);
        }
        return names;
    }

    private static String plain(String name) {
        return name.strip().toLowerCase(Locale.ROOT);
    }

    /** Those present whose name somebody else who is present has too. */
    @Transactional(readOnly = true)
    public Set<UUID> alike() {
        Map<String, List<Person>> byName = people().stream().collect(Collectors.groupingBy(p -> plain(p.name())));
        return byName.values().stream()
                .filter(same -> same.size() > 1)
                .flatMap(same -> same.stream().map(Person::id))
                .collect(Collectors.toSet());
    }

    /** E-mail addresses by person, of those with an account of their own; for leads, to know who is who. */
    @Transactional(readOnly = true)
    public Map<UUID, String> mails() {
        Set<UUID> linked = guests.until().keySet();
        Map<UUID, String> byAccount = new HashMap<>();
        members.list().stream()
                .filter(m -> !linked.contains(m.accountId()))
                .forEach(m -> byAccount.put(m.accountId(), m.email()));
        Map<UUID, String> mails = new HashMap<>();
        for (Person p : people()) {
            String mail = p.account() == null ? null : byAccount.get(p.account());
            if (mail != null) {
                mails.put(p.id(), mail);
            }
        }
        return mails;
    }

    @Transactional(readOnly = true)
    public Optional<Person> person(UUID id) {
        return people().stream().filter(p -> p.id().equals(id)).findFirst();
    }

    /** The account a person logs with, or logged with when they were last on the list. */
    @Transactional(readOnly = true)
    public Optional<UUID> accountOf(UUID id) {
        return jdbc.sql("select coalesce(account_id, former_account) from work_person where id = :id")
                .param("id", id)
                .query(UUID.class)
                .optional();
    }

    /** Who on the list the logs of an account are counted for; somebody who does not come any more, too. */
    @Transactional(readOnly = true)
    public Optional<UUID> worker(UUID account) {
        return jdbc.sql("select rootling_worker(null, :account)")
                .param("account", account)
                .query(UUID.class)
                .optional();
    }

    /** Those whose work a lead may write down from paper: without an account, or with no more than a day link. */
    @Transactional(readOnly = true)
    public List<Person> onPaper() {
        Set<UUID> linked = guests.until().keySet();
        return people().stream()
                .filter(p -> p.account() == null || linked.contains(p.account()))
                .toList();
    }

    /**
     * A link with which a person's phone may log for some days; an earlier one of theirs ends.
     *
     * @throws Refused when the person has an account of their own
     */
    public Guests.Link dayLink(UUID id, int days) {
        Person person = person(id).orElseThrow(() -> new NotFound("person"));
        if (person.account() != null && !guests.until().containsKey(person.account())) {
            throw new Refused("work.people.link-account", person.name());
        }
        Guests.Link link = guests.link(person.account(), person.shown(), days);
        if (person.account() == null) {
            jdbc.sql("update work_person set account_id = :account, version = version + 1 where id = :id")
                    .param("account", link.account())
                    .param("id", id)
                    .update();
        }
        return link;
    }

    /** When a person's day link ends or ended; empty for who never had one. */
    @Transactional(readOnly = true)
    public Optional<Instant> linkUntil(Person person) {
        return Optional.ofNullable(person.account()).map(guests.until()::get);
    }

    /** Ends a person's day link at once. */
    public void endLink(UUID id) {
        UUID account = person(id).orElseThrow(() -> new NotFound("person")).account();
        if (account != null) {
            guests.end(account);
        }
    }

    private static Person person(ResultSet r, Map<UUID, String> names, Map<UUID, List<LocalDate>> off)
            throws SQLException {
        UUID id = r.getObject("id", UUID.class);
        return new Person(
                id,
                r.getObject("account_id", UUID.class),
                r.getString("name"),
                names.getOrDefault(id, r.getString("name")),
                List.of((BigDecimal[]) r.getArray("hours").getArray()),
                List.of((String[]) r.getArray("skills").getArray()),
                r.getBigDecimal("wage"),
                r.getString("currency"),
                off.getOrDefault(id, List.of()),
                List.of((String[]) r.getArray("wishes").getArray()),
                r.getInt("version"));
    }

    /** Adds a person, or changes one when {@code id} is given. */
    public UUID save(
            @Nullable UUID id,
            @Nullable UUID account,
            String name,
            List<BigDecimal> hours,
            List<String> skills,
            @Nullable BigDecimal wage,
            String currency,
            List<LocalDate> daysOff,
            List<String> wishes,
            int version) {
        if (hours.stream().anyMatch(h -> h.signum() < 0 || h.compareTo(BigDecimal.valueOf(16)) > 0)) {
            throw new Refused("work.people.hours-range").at("hours");
        }
        if (daysOff.size() > MOST_DAYS_OFF) {
            throw new Refused("work.people.days-many", MOST_DAYS_OFF).at("daysOff");
        }
        UUID person = id == null ? Ids.next() : id;
        try {
            if (id == null) {
                jdbc.sql(
                                "insert into work_person (id, account_id, name, hours, skills, wage, currency, wishes) values (:id,"
                                        + " :account, :name, cast(:hours as numeric[]), :skills, :wage, :currency, :wishes)")
                        .params(params(person, account, name, hours, skills, wage, currency))
                        .param("wishes", wishes.toArray(String[]::new))
                        .update();
            } else {
                change(person, account, name, hours, skills, wage, currency, wishes, version);
            }
        } catch (DuplicateKeyException taken) {
            throw new Refused("work.people.account-taken").at("account");
        }
        jdbc.sql("delete from work_day_off where person_id = :id and not day = any(cast(:days as date[]))")
                .param("id", person)
                .param("days", "{" + daysOff.stream().map(LocalDate::toString).collect(Collectors.joining(",")) + "}")
                .update();
        for (LocalDate day : daysOff) {
            jdbc.sql("insert into work_day_off (id, person_id, day) values (:id, :person, :day) on conflict do nothing")
                    .param("id", Ids.next())
                    .param("person", person)
                    .param("day", day)
                    .update();
        }
        return person;
    }

    /** A day link does not outlive its person's place on the list. */
    private void endLinkUnless(UUID id, @Nullable UUID kept) {
        person(id).map(Person::account).filter(before -> !before.equals(kept)).ifPresent(guests::end);
    }

    private void change(
            UUID id,
            @Nullable UUID account,
            String name,
            List<BigDecimal> hours,
            List<String> skills,
            @Nullable BigDecimal wage,
            String currency,
            List<String> wishes,
            int version) {
        endLinkUnless(id, account);
        int changed = jdbc.sql(
                        "update work_person set account_id = :account, name = :name, hours = cast(:hours as numeric[]),"
                                + " skills = :skills, wage = :wage, currency = :currency, wishes = :wishes, version = version + 1"
                                + " where id = :id and version = :version and withdrawn_at is null")
                .params(params(id, account, name, hours, skills, wage, currency))
                .param("wishes", wishes.toArray(String[]::new))
                .param("version", version)
                .update();
        if (changed == 0) {
            throw new Stale(
                    version,
                    person(id).orElseThrow(() -> new NotFound("person")).version());
        }
    }

    private static Map<String, @Nullable Object> params(
            UUID id,
            @Nullable UUID account,
            String name,
            List<BigDecimal> hours,
            List<String> skills,
            @Nullable BigDecimal wage,
            String currency) {
        Map<String, @Nullable Object> p = new HashMap<>();
        p.put("id", id);
        p.put("account", account);
        p.put("name", name.strip());
        p.put("hours", hours.toArray(BigDecimal[]::new));
        p.put("skills", skills.toArray(String[]::new));
        p.put("wage", wage);
        p.put("currency", currency);
        return p;
    }

    public void withdraw(UUID id, int version) {
        endLinkUnless(id, null);
        int changed = jdbc.sql(
                        "update work_person set withdrawn_at = now(), former_account = account_id, account_id = null, version = version + 1"
                                + " where id = :id and version = :version and withdrawn_at is null")
                .param("id", id)
                .param("version", version)
                .update();
        if (changed == 0) {
            throw new Stale(
                    version,
                    person(id).orElseThrow(() -> new NotFound("person")).version());
        }
    }

    /** Reads days off as written: {@code 2027-04-10, 2027-04-12}. */
    public static List<LocalDate> days(@Nullable String text) {
        List<LocalDate> days = new ArrayList<>();
        for (String part : text == null ? new String[0] : text.split("[,;\\s]+")) {
            if (part.isBlank()) {
                continue;
            }
            try {
                LocalDate day = LocalDate.parse(part);
                if (day.getYear() < 1990 || day.getYear() > 2100) {
                    throw new Refused("work.people.day-range").at("daysOff");
                }
                days.add(day);
            } catch (java.time.format.DateTimeParseException notOne) {
                throw new Refused("work.people.day", part.substring(0, Math.min(20, part.length()))).at("daysOff");
            }
        }
        return days.stream().distinct().sorted().toList();
    }

    /** Reads skills as written: {@code auger, wire}. */
    public static List<String> words(@Nullable String text) {
        return Arrays.stream(text == null ? new String[0] : text.split("[,;]"))
                .map(String::strip)
                .filter(s -> !s.isEmpty())
                .map(s -> s.substring(0, Math.min(40, s.length())))
                .distinct()
                .limit(30)
                .toList();
    }

    @Transactional(readOnly = true)
    public List<ToolCount> tools() {
        return jdbc.sql("select id, name, count from work_tool order by name")
                .query((r, n) -> new ToolCount(r.getObject("id", UUID.class), r.getString("name"), r.getInt("count")))
                .list();
    }

    /** Says how many of a tool there are. */
    public void countTool(String name, int count) {
        jdbc.sql(
                        "insert into work_tool (id, name, count) values (:id, :name, :count)"
                                + " on conflict (vineyard_id, name) do update set count = :count, version = work_tool.version + 1")
                .param("id", Ids.next())
                .param("name", name.strip())
                .param("count", count)
                .update();
    }
}
