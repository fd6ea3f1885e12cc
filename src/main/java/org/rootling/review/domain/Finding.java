package org.rootling.review.domain;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.Ground;
import org.rootling.ground.Row;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.people.Member;
import org.rootling.people.Members;
import org.rootling.planting.Vine;
import org.rootling.planting.Vines;
import org.rootling.platform.DateText;
import org.rootling.work.Task;
import org.rootling.work.Tasks;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Finds lots, blocks, rows, places, people and open tasks by what people call them. */
@Service
@Transactional(readOnly = true)
public class Finding {

    /** What kind of thing was found; part of message keys. */
    public enum Kind {
        PLACE,
        ROW,
        BLOCK,
        LOT,
        PERSON,
        TASK;

        public String key() {
            return name().toLowerCase(Locale.ROOT);
        }
    }

    /**
     * Something found.
     *
     * @param path inside the vineyard, from the slash on; null where it has no page of its own
     */
    public record Hit(
            Kind kind, String name, String about, @Nullable String path) {}

    private static final int MOST_OF_A_KIND = 20;

    /** "B2 r7 12", "B2 7", "B2 r7": a block's code, a row's number, perhaps a place. */
    private static final Pattern ROW = Pattern.compile("(\\S{1,20})\\s+[rR]?(\\d{1,5})(?:\\s+(\\d{1,6}))?");

    private final Lots lots;
    private final Ground ground;
    private final Vines vines;
    private final Members members;
    private final Tasks tasks;

    Finding(Lots lots, Ground ground, Vines vines, Members members, Tasks tasks) {
        this.lots = lots;
        this.ground = ground;
        this.vines = vines;
        this.members = members;
        this.tasks = tasks;
    }

    /** Everything that has the words in its name or description; nothing for an empty question. */
    public List<Hit> find(String words) {
        String asked = words.strip().toLowerCase(Locale.ROOT);
        List<Hit> hits = new ArrayList<>();
        if (asked.isEmpty()) {
            return hits;
        }
        rowOrPlace(words.strip(), hits);
        List<Hit> found = new ArrayList<>();
        for (Block block : ground.blocks()) {
            found.add(new Hit(Kind.BLOCK, block.code(), block.name(), "/blocks/" + block.code()));
        }
        for (Lot lot : lots.all()) {
            String passport = lot.passport() == null ? "" : ", " + lot.passport();
            found.add(new Hit(
                    Kind.LOT,
                    lot.code(),
                    lot.variety() + ", " + lot.rootstock() + ", " + lot.nursery() + passport,
                    "/lots/" + lot.code()));
        }
        for (Member member : members.list()) {
            found.add(new Hit(Kind.PERSON, member.name(), "", null));
        }
        found.removeIf(hit -> !has(asked, hit.name(), hit.about()));
        for (Task task : tasks.open()) {
            if (has(asked, task.stepName(), where(task))) {
                found.add(new Hit(Kind.TASK, task.stepName(), dated(task), "/work/tasks/" + task.id()));
            }
        }
        Map<Kind, Integer> ofKind = new EnumMap<>(Kind.class);
        for (Hit hit : found) {
            if (ofKind.merge(hit.kind(), 1, Integer::sum) <= MOST_OF_A_KIND) {
                hits.add(hit);
            }
        }
        return hits;
    }

    private static boolean has(String asked, String name, String about) {
        return (name + " " + about).toLowerCase(Locale.ROOT).contains(asked);
    }

    /** The day is told but not searched: "04" would find every task of April. */
    private static String dated(Task task) {
        return task.due() == null ? where(task) : where(task) + ", " + DateText.format(task.due(), "d MMM yyyy");
    }

    private static String where(Task task) {
        return task.row() + (task.lotCode() == null ? "" : ", " + task.lotCode());
    }

    private void rowOrPlace(String words, List<Hit> hits) {
        Matcher matcher = ROW.matcher(words);
        if (!matcher.matches()) {
            return;
        }
        Row row = ground.blocks().stream()
                .filter(block -> block.code().equalsIgnoreCase(matcher.group(1)))
                .findFirst()
                .flatMap(block -> ground.row(block.code(), Integer.parseInt(matcher.group(2))))
                .orElse(null);
        if (row == null) {
            return;
        }
        String name = row.blockCode() + " r" + row.number();
        String place = matcher.group(3);
        if (place != null) {
            UUID vine =
                    vines.at(row.id(), Integer.parseInt(place)).map(Vine::id).orElse(null);
            if (vine != null) {
                hits.add(new Hit(Kind.PLACE, name + " " + place, "", "/vines/" + vine));
            }
        }
        hits.add(new Hit(Kind.ROW, name, "", "/rows/" + row.id()));
    }
}
