package org.rootling.training.domain;

import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Ids;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.platform.Stale;
import org.rootling.training.CareItem;
import org.rootling.training.calc.CareRule;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The vineyard's checklist: our own to begin with, then as the owner edits it. */
@Service
@Transactional
public class Checklist {

    /** What an owner types for an item; {@code after} is the id of the item that must be finished before. */
    public record Draft(
            int position,
            String name,
            CareRule rule,
            @Nullable UUID after,
            String why,
            String how,
            @Nullable String caution,
            @Nullable String step,
            String source) {}

    private final CareStore store;

    Checklist(CareStore store) {
        this.store = store;
    }

    /** The items in order. A vineyard that has none yet is given our own list. */
    public List<CareItem> items() {
        List<CareItem> items = store.items();
        if (items.isEmpty() && !store.hasItems()) {
            for (CareItem item : ReferenceChecklist.items()) {
                store.insert(item);
            }
            items = store.items();
        }
        return items;
    }

    public Optional<CareItem> item(UUID id) {
        return store.item(id);
    }

    /** Adds an item of the vineyard's own. */
    public UUID add(String code, Draft draft) {
        store.lockList();
        UUID id = Ids.next();
        requireNoCircle(id, draft.after());
        CareItem item = item(id, code, draft, "own", 0);
        if (!store.insert(item)) {
            throw new Refused("training.item.code-taken", code).at("code");
        }
        return id;
    }

    /** Changes an item. Its code stays. */
    public void edit(UUID id, Draft draft, int version) {
        store.lockList();
        CareItem before = present(id);
        requireNoCircle(id, draft.after());
        boolean sameSource = before.source().equals(draft.source());
        if (!store.update(item(id, before.code(), draft, sameSource ? before.howKnown() : "own", version))) {
            throw new Stale(version, before.version());
        }
    }

    /** Takes an item off the list; its ticks stay on record. */
    public void withdraw(UUID id, int version) {
        store.lockList();
        CareItem before = present(id);
        List<String> followers = store.items().stream()
                .filter(i -> id.equals(i.afterItemId()))
                .map(CareItem::name)
                .toList();
        if (!followers.isEmpty()) {
            throw new Refused("training.item.has-followers", String.join(", ", followers));
        }
        if (!store.withdraw(id, version)) {
            throw new Stale(version, before.version());
        }
    }

    private CareItem present(UUID id) {
        return store.items().stream()
                .filter(i -> i.id().equals(id))
                .findFirst()
                .orElseThrow(() -> new NotFound("checklist item"));
    }

    private static CareItem item(UUID id, String code, Draft d, String howKnown, int version) {
        return new CareItem(
                id,
                code,
                d.position(),
                d.name(),
                d.rule(),
                d.after(),
                d.why(),
                d.how(),
                d.caution(),
                d.step(),
                d.source(),
                howKnown,
                version);
    }

    /** An item may not wait for itself, by however many others. */
    private void requireNoCircle(UUID id, @Nullable UUID after) {
        if (after == null) {
            return;
        }
        Map<UUID, CareItem> byId = new HashMap<>();
        store.items().forEach(i -> byId.put(i.id(), i));
        if (!byId.containsKey(after)) {
            throw new Refused("training.item.after-unknown").at("after");
        }
        Set<UUID> path = new HashSet<>(Set.of(id));
        UUID next = after;
        while (next != null) {
            if (!path.add(next)) {
                throw new Refused("training.item.circle", byId.get(after).name()).at("after");
            }
            CareItem item = byId.get(next);
            next = item == null ? null : item.afterItemId();
        }
    }
}
