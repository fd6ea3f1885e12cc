package org.rootling.people.domain;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;
import java.util.function.Consumer;
import java.util.stream.Collectors;
import org.rootling.people.Member;
import org.rootling.people.Members;
import org.rootling.people.Role;
import org.rootling.people.Vineyard;
import org.rootling.people.Vineyards;
import org.rootling.platform.Tenancy;
import org.rootling.platform.VineyardTime;
import org.rootling.platform.Wordless;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.jdbc.core.RowMapper;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.web.context.request.RequestAttributes;
import org.springframework.web.context.request.RequestContextHolder;

/** Reads vineyards and their people. */
@Component
class PeopleQueries implements Members, Vineyards {

    private static final Logger LOG = LoggerFactory.getLogger(PeopleQueries.class);
    static final RowMapper<Vineyard> VINEYARD = (row, i) -> new Vineyard(
            row.getObject("id", UUID.class),
            row.getString("slug"),
            row.getString("name"),
            ZoneId.of(row.getString("zone")),
            row.getObject("latitude", Double.class),
            row.getObject("longitude", Double.class),
            row.getObject("altitude_m", Double.class),
            row.getInt("version"));

    private final JdbcClient jdbc;
    private final VineyardTime time;

    PeopleQueries(JdbcClient jdbc, VineyardTime time) {
        this.jdbc = jdbc;
        this.time = time;
    }

    @Override
    public List<Member> list() {
        return jdbc.sql("""
                        select a.id, a.name, a.email, m.role from membership m join account a on a.id = m.account_id
                         where m.vineyard_id = rootling_vineyard() and m.ended_at is null
                           and (m.guest_until is null or m.guest_until > now()) order by a.name, a.id""")
                .query((row, i) -> new Member(
                        row.getObject("id", UUID.class),
                        row.getString("name"),
                        row.getString("email"),
                        Role.valueOf(row.getString("role"))))
                .list();
    }

    @Override
    public Map<UUID, String> names() {
        return jdbc
                .sql("""
                        select id, name || case when nth > 1 then ' (' || nth || ')' else '' end as name
                          from (select a.id, a.name,
                                       row_number() over (partition by lower(a.name) order by m.since, m.id) as nth
                                  from membership m join account a on a.id = m.account_id
                                 where m.vineyard_id = rootling_vineyard()) numbered""")
                .query((row, i) -> Map.entry(row.getObject("id", UUID.class), row.getString("name")))
                .list()
                .stream()
                .collect(Collectors.toMap(Map.Entry::getKey, Map.Entry::getValue));
    }

    @Override
    public Locale language(UUID accountId) {
        return jdbc.sql("""
                        select a.locale from membership m join account a on a.id = m.account_id
                         where m.vineyard_id = rootling_vineyard() and a.id = :account and a.locale <> 'auto'""")
                .param("account", accountId)
                .query(String.class)
                .optional()
                .map(Locale::forLanguageTag)
                .orElse(Locale.ENGLISH);
    }

    @Override
    public Vineyard current() {
        UUID id = Tenancy.require();
        RequestAttributes request = RequestContextHolder.getRequestAttributes();
        String attribute = "rootling.vineyard." + id;
        if (request != null
                && request.getAttribute(attribute, RequestAttributes.SCOPE_REQUEST) instanceof Vineyard known) {
            return known;
        }
        Vineyard vineyard = jdbc.sql("select * from vineyard where id = :id")
                .param("id", id)
                .query(VINEYARD)
                .single();
        if (request != null) {
            request.setAttribute(attribute, vineyard, RequestAttributes.SCOPE_REQUEST);
        }
        return vineyard;
    }

    @Override
    public LocalDate today() {
        return dateOf(now());
    }

    @Override
    public Instant now() {
        return time.now();
    }

    @Override
    public List<UUID> all() {
        return jdbc.sql("select * from rootling_vineyards()").query(UUID.class).list();
    }

    @Override
    public void forEach(Consumer<UUID> work) {
        for (UUID vineyard : all()) {
            try {
                Tenancy.run(vineyard, null, () -> work.accept(vineyard));
            } catch (RuntimeException failure) {
                LOG.error("a job failed for vineyard {}", vineyard, Wordless.of(failure));
            }
        }
    }
}
