package org.rootling.review.domain;

import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.function.UnaryOperator;
import java.util.regex.Pattern;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.people.Members;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** What people call the groups of a review. Two that share a name are kept apart by a number behind it. */
@Component
class GroupNames {

    private static final Pattern DIGITS = Pattern.compile("\\d+");

    /** In the order of people: 2 before 10. */
    static final Comparator<String> ORDER =
            Comparator.<String, String>comparing(GroupNames::key).thenComparing(Comparator.naturalOrder());

    private final VineQueries vines;
    private final Lots lots;
    private final Members members;
    private final JdbcClient jdbc;
    private final MessageSource messages;

    GroupNames(VineQueries vines, Lots lots, Members members, JdbcClient jdbc, MessageSource messages) {
        this.vines = vines;
        this.lots = lots;
        this.members = members;
        this.jdbc = jdbc;
        this.messages = messages;
    }

    private static String key(String name) {
        return DIGITS.matcher(name)
                .replaceAll(m -> "0".repeat(Math.max(0, 9 - m.group().length())) + m.group());
    }

    /** The kept sums a grouping is read from. */
    static String kept(Establishment.By by) {
        return switch (by) {
            case VARIETY, ROOTSTOCK -> Establishment.By.LOT.name();
            case BLOCK, ROW, LOT, BED, DAY, PLANTER -> by.name();
        };
    }

    /** From the member of a sum to the group's name. */
    UnaryOperator<String> of(Establishment.By by) {
        return switch (by) {
            case BLOCK -> {
                Map<String, String> codes = new HashMap<>();
                for (VineQueries.BlockName block : vines.blocks()) {
                    codes.put(block.id().toString(), block.code());
                }
                yield member -> codes.getOrDefault(member, "?");
            }
            case ROW -> member -> text("review.by.row-name", member);
            case DAY -> member -> member;
            case LOT -> lot(Lot::code);
            case VARIETY -> lot(Lot::variety);
            case ROOTSTOCK -> lot(Lot::rootstock);
            case BED -> apart(stores(), text("review.by.no-bed"));
            case PLANTER -> {
                Map<String, String> people = new HashMap<>();
                members.names().forEach((id, name) -> people.put(id.toString(), name));
                yield apart(people, "?");
            }
        };
    }

    private UnaryOperator<String> lot(Function<Lot, String> what) {
        Map<String, String> names = new HashMap<>();
        lots.all().forEach(lot -> names.put(lot.id().toString(), what.apply(lot)));
        return member -> names.getOrDefault(member, "?");
    }

    private Map<String, String> stores() {
        Map<String, String> names = new HashMap<>();
        jdbc.sql("select id, name from store").query(row -> {
            names.put(row.getObject("id", UUID.class).toString(), row.getString("name"));
        });
        return names;
    }

    private String text(String key, Object... args) {
        return messages.getMessage(key, args, LocaleContextHolder.getLocale());
    }

    private static UnaryOperator<String> apart(Map<String, String> names, String unknown) {
        Set<String> given = new HashSet<>();
        return member -> {
            String name = names.getOrDefault(member, unknown);
            String unique = name;
            for (int n = 2; !given.add(unique); n++) {
                unique = name + " (" + n + ")";
            }
            return unique;
        };
    }
}
