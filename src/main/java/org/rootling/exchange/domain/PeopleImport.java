package org.rootling.exchange.domain;

import java.math.BigDecimal;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;
import org.rootling.people.CurrentMember;
import org.rootling.people.Invitations;
import org.rootling.people.Role;
import org.rootling.platform.Refused;
import org.rootling.work.Crew;
import org.springframework.context.MessageSource;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/**
 * People: with a role each line becomes an invitation, whose link the owner shows on the page of people; without one it
 * becomes a helper who is only a name on paper. Nobody gets an account by it.
 */
@Component
@Order(5)
class PeopleImport implements ImportKind {

    private static final int USUAL_DAYS = 14;
    private static final int WORKING_DAYS = 5;

    private final Invitations invitations;
    private final Crew crew;
    private final CurrentMember member;
    private final MessageSource messages;

    PeopleImport(Invitations invitations, Crew crew, CurrentMember member, MessageSource messages) {
        this.invitations = invitations;
        this.crew = crew;
        this.member = member;
        this.messages = messages;
    }

    @Override
    public String name() {
        return "people";
    }

    @Override
    public List<String> columns() {
        return List.of("name", "role", "days", "hours");
    }

    @Override
    public List<String> needed() {
        return List.of("name");
    }

    @Override
    public String together(ImportLine line) {
        return line.text("name", "").toLowerCase(Locale.ROOT);
    }

    @Override
    public void take(List<ImportLine> lines) {
        ImportLine line = lines.get(0);
        if (lines.size() > 1) {
            throw new Refused("exchange.import.person-twice").at("name");
        }
        String name = line.needed("name", 80);
        String role = line.text("role");
        if (role == null) {
            onPaper(name, line);
        } else if (!member.may(Role.OWNER)) {
            throw new Refused("exchange.import.owner-invites").at("role");
        } else {
            int days = line.whole("days", 1, 60, USUAL_DAYS);
            invitations.prepare(role(role), Duration.ofDays(days), name, member.accountId());
        }
    }

    private void onPaper(String name, ImportLine line) {
        if (crew.knows(name)) {
            throw new Refused("exchange.import.person-there", name).at("name");
        }
        BigDecimal hours = line.number("hours", 0, 16);
        List<BigDecimal> week = new ArrayList<>(Collections.nCopies(7, BigDecimal.ZERO));
        if (hours != null) {
            Collections.fill(week.subList(0, WORKING_DAYS), hours);
        }
        crew.addOnPaper(name, week);
    }

    /** A role by its name in any of our languages; an owner is invited by hand. */
    private Role role(String text) {
        for (Role role : List.of(Role.LEAD, Role.HELPER, Role.READER)) {
            if (role.name().equalsIgnoreCase(text)) {
                return role;
            }
            for (Locale language : Importing.LANGUAGES) {
                @Nullable String word = messages.getMessage("people.role." + role, null, null, language);
                if (text.equalsIgnoreCase(word)) {
                    return role;
                }
            }
        }
        throw new Refused("exchange.import.no-role", text).at("role");
    }

    @Override
    public String page() {
        return "/people";
    }
}
