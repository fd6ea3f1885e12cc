package org.rootling.review.domain;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
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
import org.rootling.platform.FoldedText;
import org.rootling.work.Crew;
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
     * @param path inside the vineyard, from the slash on
     */
    public record Hit(Kind kind, String name, String about, String path) {}

    /** "B2 r7 12", "B2 7", "B2 r7": a block's code, a row's number, perhaps a place. */
    private static final Pattern ROW = Pattern.compile("(\\S{1,20})\\s+[rR]?(\\d{1,5})(?:\\s+(\\d{1,6}))?");

    private final Lots lots;
    private final Ground ground;
    private final Vines vines;
    private final Members members;
    private final Tasks tasks;
    private final Crew crew;

    Finding(Lots lots, Ground ground, Vines vines, Members members, Tasks tasks, Crew crew) {
        this.lots = lots;
        this.ground = ground;
        this.vines = vines;
        this.members = members;
        this.tasks = tasks;
        this.crew = crew;
    }

    /**
     * Everything that has all of the words in its name or description, without regard to case and accents; nothing for an
     * empty question. A row or a place that is named as people say it comes first.
     */
    public List<Hit> find(String asked) {
        List<String> words = FoldedText.words(asked);
        List<Hit> hits = new ArrayList<>();
        if (words.isEmpty()) {
            return hits;
        }
        List<Block> blocks = ground.blocks();
        rowOrPlace(asked.strip(), blocks, hits);
        for (Block block : blocks) {
            add(words, new Hit(Kind.BLOCK, block.code(), block.name(), "/blocks/" + block.code()), hits);
        }
        for (Lot lot : lots.all()) {
            String passport = lot.passport() == null ? "" : ", " + lot.passport();
            String about = lot.variety() + ", " + lot.rootstock() + ", " + lot.nursery() + passport;
            add(words, new Hit(Kind.LOT, lot.code(), about, "/lots/" + lot.code()), hits);
        }
        people().forEach((key, hit) -> add(words, hit, hits));
        for (Task task : tasks.open()) {
            if (has(words, task.stepName() + " " + where(task))) {
                hits.add(new Hit(Kind.TASK, task.stepName(), dated(task), "/work/tasks/" + task.id()));
            }
        }
        return hits;
    }

    /**
     * Members and whoever can be given work, each once; by id and name, since the plans may call somebody otherwise than
     * their account does.
     */
    private Map<String, Hit> people() {
        Map<UUID, String> names = members.names();
        Map<String, Hit> people = new LinkedHashMap<>();
        for (Member member : members.list()) {
            put(member.accountId(), names.getOrDefault(member.accountId(), member.name()), people);
        }
        for (Crew.Named named : crew.present()) {
            put(named.account() == null ? named.id() : named.account(), named.name(), people);
        }
        return people;
    }

    private static void put(UUID id, String name, Map<String, Hit> people) {
        people.putIfAbsent(id + name, new Hit(Kind.PERSON, name, "", "/people/" + id));
    }

    private static void add(List<String> words, Hit hit, List<Hit> hits) {
        if (has(words, hit.name() + " " + hit.about())) {
            hits.add(hit);
        }
    }

    private static boolean has(List<String> words, String text) {
        String folded = FoldedText.of(text);
        return words.stream().allMatch(folded::contains);
    }

    /** The day is told but not searched: "04" would find every task of April. */
    private static String dated(Task task) {
        return task.due() == null ? where(task) : where(task) + ", " + DateText.format(task.due(), "d MMM yyyy");
    }

    private static String where(Task task) {
        return task.row() + (task.lotCode() == null ? "" : ", " + task.lotCode());
    }

    private void rowOrPlace(String words, List<Block> blocks, List<Hit> hits) {
        Matcher matcher = ROW.matcher(words);
        if (!matcher.matches()) {
            return;
        }
        String code = FoldedText.of(matcher.group(1));
        Row row = blocks.stream()
                .filter(block -> FoldedText.of(block.code()).equals(code))
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
