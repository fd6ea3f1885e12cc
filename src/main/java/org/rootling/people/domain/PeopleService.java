package org.rootling.people.domain;

import java.text.Normalizer;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Role;
import org.rootling.people.Vineyard;
import org.rootling.platform.Ids;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.platform.Stale;
import org.rootling.platform.Tenancy;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.stereotype.Service;
import org.springframework.transaction.support.TransactionTemplate;

/** Sets up vineyards, invites people, and keeps accounts and tokens. */
@Service
public class PeopleService {

    /** What an invitation link opens. */
    public record Invitation(
            UUID vineyardId, UUID id, String vineyard, String slug, Role role, Instant expiresAt, boolean usable) {}

    /** An open or past invitation as listed for the owner. */
    public record InvitationRow(
            UUID id,
            Role role,
            @Nullable String note,
            Instant expiresAt,
            @Nullable Instant usedAt,
            String state) {}

    /** A token as listed; the secret itself is never stored. */
    public record TokenRow(
            UUID id, String name, Role role, UUID accountId, String person, Instant createdAt, boolean revoked) {}

    /** A vineyard a person belongs to. */
    public record Belonging(UUID vineyardId, String slug, String name, Role role) {}

    /**
     * A person in a vineyard: their role there and how they want to see things.
     *
     * @param codeMissing whether the vineyard asks them for a second factor that they have not
     */
    public record Seat(
            Vineyard vineyard, Role role, String units, String locale, boolean contrast, boolean codeMissing) {}

    /** What a person set for themselves. */
    public record Profile(String email, String name, String locale, String units, boolean contrast) {}

    private final JdbcClient jdbc;
    private final Accounts accounts;
    private final PasswordEncoder passwords;
    private final CommonPasswords common;
    private final SignInThrottle throttle;
    private final TransactionTemplate transaction;
    private final Clock clock;

    PeopleService(
            JdbcClient jdbc,
            Accounts accounts,
            PasswordEncoder passwords,
            CommonPasswords common,
            SignInThrottle throttle,
            TransactionTemplate transaction,
            Clock realClock) {
        this.jdbc = jdbc;
        this.accounts = accounts;
        this.passwords = passwords;
        this.common = common;
        this.throttle = throttle;
        this.transaction = transaction;
        this.clock = realClock;
    }

    /** Whether nothing has been set up yet. */
    public boolean isNew() {
        return jdbc.sql("select rootling_is_new()").query(Boolean.class).single();
    }

    /** Makes a vineyard with a new account as its owner; returns the vineyard's slug. */
    public String foundVineyard(String vineyardName, ZoneId zone, String email, String name, String password) {
        requireGoodPassword(password, email, name);
        requireFreeEmail(email);
        UUID account = Ids.next();
        String hash = encode(password);
        return foundFor(
                account,
                vineyardName,
                zone,
                () -> accounts.save(new Account(account, lower(email), name.strip(), hash)));
    }

    /** Makes a further vineyard for someone who already has an account; returns its slug. */
    public String foundFurtherVineyard(UUID account, String vineyardName, ZoneId zone) {
        return foundFor(account, vineyardName, zone, () -> {});
    }

    private String foundFor(UUID account, String vineyardName, ZoneId zone, Runnable before) {
        UUID vineyard = Ids.next();
        String slug = freeSlug(vineyardName);
        Tenancy.run(
                vineyard,
                account,
                () -> transaction.executeWithoutResult(status -> {
                    before.run();
                    accounts.flush();
                    jdbc.sql("insert into vineyard (id, slug, name, zone) values (:id, :slug, :name, :zone)")
                            .param("id", vineyard)
                            .param("slug", slug)
                            .param("name", vineyardName.strip())
                            .param("zone", zone.getId())
                            .update();
                    join(account, Role.OWNER);
                }));
        return slug;
    }

    private void join(UUID account, Role role) {
        jdbc.sql("insert into membership (id, account_id, role) values (:id, :account, :role)")
                .param("id", Ids.next())
                .param("account", account)
                .param("role", role.name())
                .update();
    }

    /** Makes an invitation; returns the secret of its link, shown once. */
    public String invite(Role role, Duration valid, @Nullable String note, UUID by) {
        if (valid.isNegative() || valid.isZero() || valid.compareTo(Duration.ofDays(60)) > 0) {
            throw new Refused("people.invite.days-out-of-range").at("days");
        }
        String secret = Secrets.next();
        jdbc.sql("""
                        insert into invitation (id, token_hash, role, note, expires_at, created_by)
                        values (:id, :hash, :role, :note, :expires, :by)""")
                .param("id", Ids.next())
                .param("hash", Secrets.hash(secret))
                .param("role", role.name())
                .param("note", note == null || note.isBlank() ? null : note.strip())
                .param("expires", java.sql.Timestamp.from(clock.instant().plus(valid)))
                .param("by", by)
                .update();
        return secret;
    }

    /** The invitation that a secret opens, usable or not. */
    public Optional<Invitation> invitation(String secret) {
        return jdbc.sql("select * from rootling_invitation(:hash)")
                .param("hash", Secrets.hash(secret))
                .query((row, i) -> {
                    Instant expires = row.getTimestamp("expires_at").toInstant();
                    return new Invitation(
                            row.getObject("vineyard_id", UUID.class),
                            row.getObject("id", UUID.class),
                            row.getString("vineyard_name"),
                            row.getString("vineyard_slug"),
                            Role.valueOf(row.getString("role")),
                            expires,
                            !row.getBoolean("used")
                                    && !row.getBoolean("withdrawn")
                                    && expires.isAfter(clock.instant()));
                })
                .optional();
    }

    /** Takes up an invitation with a new account; returns the vineyard's slug. */
    public String acceptAsNew(String secret, String email, String name, String password) {
        Invitation invitation = usable(secret);
        requireGoodPassword(password, email, name);
        requireFreeEmail(email);
        UUID account = Ids.next();
        String hash = encode(password);
        Tenancy.run(
                invitation.vineyardId(),
                account,
                () -> transaction.executeWithoutResult(status -> {
                    accounts.saveAndFlush(new Account(account, lower(email), name.strip(), hash));
                    use(invitation, account);
                }));
        return invitation.slug();
    }

    /** Takes up an invitation with an account that exists; returns the vineyard's slug. */
    public String acceptAsKnown(String secret, UUID account) {
        Invitation invitation = usable(secret);
        Tenancy.run(
                invitation.vineyardId(),
                account,
                () -> transaction.executeWithoutResult(status -> use(invitation, account)));
        return invitation.slug();
    }

    private Invitation usable(String secret) {
        return invitation(secret).filter(Invitation::usable).orElseThrow(() -> new Refused("people.join.not-usable"));
    }

    /** Marks it used and joins, in one step guarded by the database: of two at once, one wins. */
    private void use(Invitation invitation, UUID account) {
        int used = jdbc.sql("""
                        update invitation set used_at = now(), used_by = :account, version = version + 1
                         where vineyard_id = rootling_vineyard() and id = :id
                           and used_at is null and withdrawn_at is null and expires_at > :now""")
                .param("account", account)
                .param("id", invitation.id())
                .param("now", java.sql.Timestamp.from(clock.instant()))
                .update();
        if (used == 0) {
            throw new Refused("people.join.not-usable");
        }
        int revived = jdbc.sql("""
                        update membership set ended_at = null, role = :role, version = version + 1
                         where vineyard_id = rootling_vineyard() and account_id = :account and ended_at is not null""")
                .param("role", invitation.role().name())
                .param("account", account)
                .update();
        boolean member = jdbc.sql(
                        "select exists (select 1 from membership where vineyard_id = rootling_vineyard() and account_id = :a)")
                .param("a", account)
                .query(Boolean.class)
                .single();
        if (revived == 0 && member) {
            throw new Refused("people.join.already-member");
        }
        if (revived == 0) {
            join(account, invitation.role());
        }
    }

    /** Withdraws an open invitation. */
    public void withdrawInvitation(UUID id) {
        int changed = jdbc.sql("""
                        update invitation set withdrawn_at = now(), version = version + 1
                         where vineyard_id = rootling_vineyard() and id = :id and used_at is null and withdrawn_at is null""").param("id", id).update();
        if (changed == 0) {
            throw new NotFound("invitation");
        }
    }

    /** All invitations, newest first. */
    public List<InvitationRow> invitations() {
        Instant now = clock.instant();
        return jdbc.sql("""
                        select id, role, note, expires_at, used_at, withdrawn_at from invitation
                         where vineyard_id = rootling_vineyard() order by created_at desc limit 200""")
                .query((row, i) -> {
                    Instant expires = row.getTimestamp("expires_at").toInstant();
                    java.sql.Timestamp used = row.getTimestamp("used_at");
                    String state = used != null
                            ? "used"
                            : row.getTimestamp("withdrawn_at") != null
                                    ? "withdrawn"
                                    : expires.isBefore(now) ? "expired" : "open";
                    return new InvitationRow(
                            row.getObject("id", UUID.class),
                            Role.valueOf(row.getString("role")),
                            row.getString("note"),
                            expires,
                            used == null ? null : used.toInstant(),
                            state);
                })
                .list();
    }

    /** Changes a member's role; the last owner stays owner, a guest helper. */
    public void changeRole(UUID account, Role role) {
        lockVineyard();
        if (role != Role.OWNER) {
            requireAnotherOwner(account);
        }
        int changed = jdbc.sql("""
                        update membership set role = :role, version = version + 1
                         where vineyard_id = rootling_vineyard() and account_id = :account and ended_at is null
                           and guest_until is null""")
                .param("role", role.name())
                .param("account", account)
                .update();
        if (changed == 0) {
            throw new NotFound("member");
        }
    }

    /** Ends a membership; what the person did stays. */
    public void endMembership(UUID account) {
        lockVineyard();
        requireAnotherOwner(account);
        int changed = jdbc.sql("""
                        update membership set ended_at = now(), version = version + 1
                         where vineyard_id = rootling_vineyard() and account_id = :account and ended_at is null""").param("account", account).update();
        if (changed == 0) {
            throw new NotFound("member");
        }
        jdbc.sql("""
                        update api_token set revoked_at = now(), version = version + 1
                         where vineyard_id = rootling_vineyard() and account_id = :account and revoked_at is null""").param("account", account).update();
    }

    private void lockVineyard() {
        jdbc.sql("select id from vineyard where id = rootling_vineyard() for update")
                .query(UUID.class)
                .single();
    }

    private void requireAnotherOwner(UUID account) {
        boolean another =
                jdbc.sql("""
                        select exists (select 1 from membership where vineyard_id = rootling_vineyard()
                           and account_id <> :account and role = 'OWNER' and ended_at is null)""").param("account", account).query(Boolean.class).single();
        if (!another) {
            throw new Refused("people.list.last-owner");
        }
    }

    /** Makes an API token no stronger than its maker; returns the secret, shown once. */
    public String makeToken(String name, Role role, UUID account, Role makersRole) {
        if (!makersRole.includes(role)) {
            throw new Refused("people.tokens.too-strong").at("role");
        }
        String secret = "rtl_" + Secrets.next();
        jdbc.sql(
                        "insert into api_token (id, account_id, name, token_hash, role) values (:id, :account, :name, :hash, :role)")
                .param("id", Ids.next())
                .param("account", account)
                .param("name", name.strip())
                .param("hash", Secrets.hash(secret))
                .param("role", role.name())
                .update();
        return secret;
    }

    /** Tokens of one person, or of everyone for an owner. */
    public List<TokenRow> tokens(@Nullable UUID onlyAccount) {
        return jdbc.sql("""
                        select t.id, t.name, t.role, t.account_id, a.name as person, t.created_at, t.revoked_at is not null as revoked
                          from api_token t join account a on a.id = t.account_id
                         where t.vineyard_id = rootling_vineyard() and (cast(:account as uuid) is null or t.account_id = :account)
                         order by t.created_at desc limit 200""")
                .param("account", onlyAccount)
                .query((row, i) -> new TokenRow(
                        row.getObject("id", UUID.class),
                        row.getString("name"),
                        Role.valueOf(row.getString("role")),
                        row.getObject("account_id", UUID.class),
                        row.getString("person"),
                        row.getTimestamp("created_at").toInstant(),
                        row.getBoolean("revoked")))
                .list();
    }

    /** Revokes a token: an owner any, others their own. */
    public void revokeToken(UUID id, @Nullable UUID onlyAccount) {
        int changed =
                jdbc.sql("""
                        update api_token set revoked_at = now(), version = version + 1
                         where vineyard_id = rootling_vineyard() and id = :id and revoked_at is null
                           and (cast(:account as uuid) is null or account_id = :account)""").param("id", id).param("account", onlyAccount).update();
        if (changed == 0) {
            throw new NotFound("token");
        }
    }

    /** The vineyards that an account belongs to. */
    public List<Belonging> belongings(UUID account) {
        return Tenancy.as(
                null,
                account,
                () -> jdbc.sql("""
                        select v.id, v.slug, v.name, m.role from membership m join vineyard v on v.id = m.vineyard_id
                         where m.account_id = :account and m.ended_at is null and v.closed_at is null
                           and (m.guest_until is null or m.guest_until > now()) order by v.name""")
                        .param("account", account)
                        .query((row, i) -> new Belonging(
                                row.getObject("id", UUID.class),
                                row.getString("slug"),
                                row.getString("name"),
                                Role.valueOf(row.getString("role"))))
                        .list());
    }

    /** Place and time of the current vineyard. */
    public void describeVineyard(
            String name,
            ZoneId zone,
            @Nullable Double latitude,
            @Nullable Double longitude,
            @Nullable Double altitudeM,
            int version) {
        int changed = jdbc.sql("""
                        update vineyard set name = :name, zone = :zone, latitude = :latitude, longitude = :longitude,
                               altitude_m = :altitude, version = version + 1
                         where id = rootling_vineyard() and version = :version""")
                .param("name", name.strip())
                .param("zone", zone.getId())
                .param("latitude", latitude)
                .param("longitude", longitude)
                .param("altitude", altitudeM)
                .param("version", version)
                .update();
        if (changed == 0) {
            int now = jdbc.sql("select version from vineyard where id = rootling_vineyard()")
                    .query(Integer.class)
                    .single();
            throw new Stale(version, now);
        }
    }

    /** What a person set for themselves. */
    public Profile profile(UUID account) {
        return Tenancy.as(
                Tenancy.vineyardOrNull(),
                account,
                () -> accounts.findById(account)
                        .map(a -> new Profile(a.email(), a.name(), a.locale(), a.units(), a.contrast()))
                        .orElseThrow(() -> new NotFound("account")));
    }

    /** Changes name, language, units and contrast. */
    public void present(UUID account, String name, String locale, String units, boolean contrast) {
        Tenancy.run(
                null,
                account,
                () -> transaction.executeWithoutResult(status -> accounts.findById(account)
                        .orElseThrow(() -> new NotFound("account"))
                        .present(name.strip(), locale, units, contrast)));
    }

    /** Changes a password; the present one must be given. */
    public void changePassword(UUID account, String present, String wanted) {
        Tenancy.run(
                null,
                account,
                () -> transaction.executeWithoutResult(status -> {
                    Account known = accounts.findById(account).orElseThrow(() -> new NotFound("account"));
                    requirePresent(known, present);
                    requireGoodPassword(wanted, known.email(), known.name());
                    known.changePassword(encode(wanted));
                }));
    }

    /** Asks for the password again before something that cannot easily be taken back. */
    public void requirePassword(UUID account, String present) {
        Tenancy.run(
                null,
                account,
                () -> requirePresent(accounts.findById(account).orElseThrow(() -> new NotFound("account")), present));
    }

    /** Wrong ones are counted as at the door: whoever finds a screen open must not guess the password there. */
    private void requirePresent(Account known, String present) {
        String key = "present " + known.getId();
        if (!throttle.allows(key)) {
            throw new Refused("people.sign-in.wait").at("present");
        }
        if (!passwords.matches(present, known.passwordHash())) {
            throttle.failed(key);
            throw new Refused("people.account.password-wrong").at("present");
        }
        throttle.succeeded(key);
    }

    /** The hash of a new password that is good enough. */
    String hashOfGood(String password, String email, String name) {
        requireGoodPassword(password, email, name);
        return encode(password);
    }

    private String encode(String password) {
        return java.util.Objects.requireNonNull(passwords.encode(password));
    }

    private void requireGoodPassword(String password, String email, String name) {
        if (password.codePointCount(0, password.length()) < 12) {
            throw new Refused("people.password.too-short", 12).at("password");
        }
        if (common.contains(password)
                || lower(password).contains(lower(email))
                || lower(password).equals(lower(name))
                || common.guessable(password, email, name)) {
            throw new Refused("people.password.too-common").at("password");
        }
    }

    private void requireFreeEmail(String email) {
        if (jdbc.sql("select rootling_email_taken(:email)")
                .param("email", lower(email))
                .query(Boolean.class)
                .single()) {
            throw new Refused("people.join.email-taken").at("email");
        }
    }

    private String freeSlug(String name) {
        String ascii = Normalizer.normalize(name, Normalizer.Form.NFD).replaceAll("\\p{M}+", "");
        String base = lower(ascii).replaceAll("[^a-z0-9]+", "-").replaceAll("^-+|-+$", "");
        if (base.length() > 30) {
            base = base.substring(0, 30).replaceAll("-+$", "");
        }
        if (base.length() < 2) {
            base = "vineyard";
        }
        String slug = base;
        for (int n = 2; slugTaken(slug); n++) {
            slug = base + "-" + n;
        }
        return slug;
    }

    private boolean slugTaken(String slug) {
        return jdbc.sql("select rootling_slug_taken(:slug)")
                .param("slug", slug)
                .query(Boolean.class)
                .single();
    }

    /** The vineyard of a slug with the account's role and wishes; empty for strangers and former members. */
    public Optional<Seat> seat(String slug, UUID account) {
        return Tenancy.as(
                null,
                account,
                () -> jdbc.sql("""
                        select v.*, m.role, a.units, a.locale, a.contrast,
                               v.codes_required and m.role in ('OWNER', 'LEAD') and not exists (select 1 from second_factor f
                                 where f.account_id = a.id and f.confirmed_at is not null) as code_missing
                          from vineyard v join membership m on m.vineyard_id = v.id join account a on a.id = m.account_id
                         where v.slug = :slug and m.account_id = :account and m.ended_at is null and v.closed_at is null
                           and (m.guest_until is null or m.guest_until > now())""")
                        .param("slug", slug)
                        .param("account", account)
                        .query((row, i) -> new Seat(
                                java.util.Objects.requireNonNull(PeopleQueries.VINEYARD.mapRow(row, i)),
                                Role.valueOf(row.getString("role")),
                                row.getString("units"),
                                row.getString("locale"),
                                row.getBoolean("contrast"),
                                row.getBoolean("code_missing")))
                        .optional());
    }

    private static String lower(String text) {
        return text.strip().toLowerCase(Locale.ROOT);
    }
}
