package org.rootling.people.domain;

import java.security.Principal;
import java.util.Optional;
import java.util.UUID;
import org.rootling.people.Role;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Finds what a bearer token opens. */
@Component
public class TokenLookup {

    /**
     * Who a token speaks for, where, and with the lesser of the token's and the person's present role.
     *
     * @param codeMissing whether the vineyard asks the person for a second factor that they have not
     */
    public record Bearer(UUID vineyardId, UUID accountId, String name, Role role, String units, boolean codeMissing)
            implements Principal {
        @Override
        public String getName() {
            return name;
        }
    }

    private final JdbcClient jdbc;

    TokenLookup(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    public Optional<Bearer> find(String secret) {
        return jdbc.sql("select * from rootling_token(:hash)")
                .param("hash", Secrets.hash(secret))
                .query((row, i) -> {
                    Role token = Role.valueOf(row.getString("token_role"));
                    Role member = Role.valueOf(row.getString("member_role"));
                    return new Bearer(
                            row.getObject("vineyard_id", UUID.class),
                            row.getObject("account_id", UUID.class),
                            row.getString("name"),
                            member.includes(token) ? token : member,
                            row.getString("units"),
                            row.getBoolean("code_missing"));
                })
                .optional();
    }
}
