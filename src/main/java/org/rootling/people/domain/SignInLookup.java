package org.rootling.people.domain;

import java.util.UUID;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.core.userdetails.UserDetails;
import org.springframework.security.core.userdetails.UserDetailsService;
import org.springframework.security.core.userdetails.UsernameNotFoundException;
import org.springframework.stereotype.Service;

/** Finds an account by its e-mail address for signing in. */
@Service
class SignInLookup implements UserDetailsService {

    private final JdbcClient jdbc;

    SignInLookup(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    @Override
    public UserDetails loadUserByUsername(String email) {
        return jdbc.sql("select * from rootling_sign_in(:email)")
                .param("email", email.strip())
                .query((row, i) -> new SignedIn(
                        row.getObject("id", UUID.class),
                        row.getString("email"),
                        row.getString("name"),
                        row.getString("password_hash")))
                .optional()
                .orElseThrow(() -> new UsernameNotFoundException("unknown"));
    }
}
