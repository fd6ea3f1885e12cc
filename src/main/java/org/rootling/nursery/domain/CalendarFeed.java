package org.rootling.nursery.domain;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.security.SecureRandom;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Base64;
import java.util.Comparator;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.UUID;
import org.rootling.nursery.Allowance;
import org.rootling.nursery.CalendarSource;
import org.rootling.nursery.CalendarSource.Day;
import org.rootling.nursery.Hold;
import org.rootling.nursery.Lots;
import org.rootling.people.Members;
import org.rootling.platform.Ids;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Private calendar addresses, and the days that stand in them. */
@Component
public class CalendarFeed {

    /** Whose feed a secret opens. */
    public record Owner(UUID vineyardId, UUID accountId) {}

    private static final SecureRandom RANDOM = new SecureRandom();

    private final JdbcClient jdbc;
    private final ObjectProvider<CalendarSource> sources;

    CalendarFeed(JdbcClient jdbc, ObjectProvider<CalendarSource> sources) {
        this.jdbc = jdbc;
        this.sources = sources;
    }

    /** Makes a person's address anew; an older one stops working. The secret is told only now. */
    @Transactional
    public String make(UUID account) {
        revoke(account);
        byte[] bytes = new byte[32];
        RANDOM.nextBytes(bytes);
        String secret = Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
        jdbc.sql("insert into calendar_feed (id, account_id, secret_hash) values (:id, :account, :hash)")
                .param("id", Ids.next())
                .param("account", account)
                .param("hash", hash(secret))
                .update();
        return secret;
    }

    /** Ends a person's address. */
    @Transactional
    public void revoke(UUID account) {
        jdbc.sql("update calendar_feed set revoked_at = now() where account_id = :account and revoked_at is null")
                .param("account", account)
                .update();
    }

    /** Whether a person has an address that works. */
    @Transactional(readOnly = true)
    public boolean has(UUID account) {
        return jdbc.sql("select count(*) from calendar_feed where account_id = :account and revoked_at is null")
                        .param("account", account)
                        .query(Integer.class)
                        .single()
                > 0;
    }

    /** Who a secret belongs to; asked before it is known in which vineyard. */
    @Transactional(readOnly = true)
    public Optional<Owner> owner(String secret) {
        return jdbc.sql("select vineyard_id, account_id from rootling_calendar_feed(:hash)")
                .param("hash", hash(secret))
                .query((rs, n) ->
                        new Owner(rs.getObject("vineyard_id", UUID.class), rs.getObject("account_id", UUID.class)))
                .optional();
    }

    /** All days of a person of the current vineyard, by day. */
    public List<Day> days(UUID account) {
        return sources.stream()
                .flatMap(s -> s.days(account).stream())
                .sorted(Comparator.comparing(Day::on).thenComparing(Day::id))
                .toList();
    }

    private static String hash(String secret) {
        try {
            return HexFormat.of()
                    .formatHex(MessageDigest.getInstance("SHA-256").digest(secret.getBytes(StandardCharsets.UTF_8)));
        } catch (NoSuchAlgorithmException impossible) {
            throw new IllegalStateException(impossible);
        }
    }

    /** Waterings and run-out days of the holds. */
    @Component
    static class HoldDays implements CalendarSource {

        private final Lots lots;
        private final HoldWords words;
        private final Members members;

        HoldDays(Lots lots, HoldWords words, Members members) {
            this.lots = lots;
            this.words = words;
            this.members = members;
        }

        @Override
        public List<Day> days(UUID accountId) {
            Locale locale = members.language(accountId);
            List<Day> days = new ArrayList<>();
            Map<String, Day> water = new TreeMap<>();
            for (Hold hold : lots.holds()) {
                LocalDate plantBy = hold.plantBy();
                if (plantBy != null) {
                    days.add(new Day(
                            "plant-by-" + hold.id(),
                            plantBy,
                            words.say("nursery.calendar.plant-by", locale, hold.lotCode(), hold.count(), hold.store()),
                            words.paragraph(hold, locale),
                            "/lots/" + hold.lotCode()));
                }
                Allowance dry = hold.allowance("dryness");
                if (dry != null && dry.runsOutOn() != null) {
                    Day day = new Day(
                            "water-" + hold.storeId(),
                            dry.runsOutOn(),
                            words.say("nursery.calendar.water", locale, hold.store()),
                            words.paragraph(hold, locale),
                            "/stores/" + hold.storeId());
                    water.merge(day.id(), day, (a, b) -> b.on().isBefore(a.on()) ? b : a);
                }
            }
            days.addAll(water.values());
            return days;
        }
    }
}
