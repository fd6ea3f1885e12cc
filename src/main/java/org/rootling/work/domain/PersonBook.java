package org.rootling.work.domain;

import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Guests;
import org.rootling.people.Member;
import org.rootling.people.Members;
import org.rootling.people.Vineyards;
import org.rootling.work.Task;
import org.rootling.work.Tasks;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * What is known of one person: a member, somebody on the list of who works when, or both. They are told apart by their ids,
 * never by their names.
 */
@Service
@Transactional(readOnly = true)
public class PersonBook {
    private final Members members;
    private final Guests guests;
    private final CrewService crew;
    private final Tasks tasks;
    private final ScheduleService schedules;
    private final LabourReport labour;
    private final Vineyards vineyards;

    PersonBook(
            Members members,
            Guests guests,
            CrewService crew,
            Tasks tasks,
            ScheduleService schedules,
            LabourReport labour,
            Vineyards vineyards) {
        this.members = members;
        this.guests = guests;
        this.crew = crew;
        this.tasks = tasks;
        this.schedules = schedules;
        this.labour = labour;
        this.vineyards = vineyards;
    }

    /**
     * One person.
     *
     * @param name marked where others have the same
     * @param inPlans what the plans call them; null where that is the same
     * @param account null for who is only a name on paper
     * @param worker their line on the list of who works when, past or present; null for who was never on it
     * @param member null for who is not, or not any more, a member
     * @param guestUntil when their day link ends or ended; null for who never had one
     * @param week when they work, and what they can; null for who is not on the list now
     */
    public record Known(
            String name,
            @Nullable String inPlans,
            @Nullable UUID account,
            @Nullable UUID worker,
            @Nullable Member member,
            @Nullable Instant guestUntil,
            CrewService.@Nullable Person week) {

        /** Under what their logs are summed. */
        public @Nullable UUID sumKey() {
            return worker == null ? account : worker;
        }
    }

    /**
     * An open task that is given to, or planned for, somebody.
     *
     * @param planned the first day from today on that the schedule has them at it; null where it has not
     */
    public record Ahead(Task task, @Nullable LocalDate planned) {}

    /** Somebody by the id of their account, or by that on the list of who works when. */
    public Optional<Known> find(UUID id) {
        Map<UUID, String> accounts = members.names();
        if (accounts.containsKey(id)) {
            return Optional.of(known(id, crew.worker(id).orElse(null), accounts));
        }
        if (!crew.names().containsKey(id)) {
            return Optional.empty();
        }
        // Who was taken off the list and put on it again has a new line there, and the account goes with that.
        UUID account = crew.accountOf(id)
                .filter(a -> crew.worker(a).filter(id::equals).isPresent())
                .orElse(null);
        return Optional.of(known(account, id, accounts));
    }

    private Known known(@Nullable UUID account, @Nullable UUID worker, Map<UUID, String> accounts) {
        Instant until = account == null ? null : guests.until().get(account);
        String inPlans = worker == null ? null : crew.names().get(worker);
        String called = account == null ? null : accounts.get(account);
        String name = called == null || (until != null && inPlans != null) ? String.valueOf(inPlans) : called;
        return new Known(
                name,
                name.equals(inPlans) ? null : inPlans,
                account,
                worker,
                members.list().stream()
                        .filter(m -> m.accountId().equals(account))
                        .findFirst()
                        .orElse(null),
                until,
                worker == null ? null : crew.person(worker).orElse(null));
    }

    /** What a person has still to do: what is given to them, then what is only planned for them. */
    public List<Ahead> ahead(Known person) {
        LocalDate today = vineyards.today();
        Map<UUID, LocalDate> planned = planned(person.worker(), today);
        Map<UUID, Task> all = new LinkedHashMap<>();
        if (person.account() != null) {
            tasks.forHelper(person.account(), today).forEach(t -> all.put(t.id(), t));
        }
        tasks.byIds(planned.keySet()).stream()
                .filter(t -> t.status().isOpen())
                .forEach(t -> all.putIfAbsent(t.id(), t));
        List<Ahead> ahead = new ArrayList<>();
        all.values().forEach(t -> ahead.add(new Ahead(t, planned.get(t.id()))));
        return ahead;
    }

    private Map<UUID, LocalDate> planned(@Nullable UUID worker, LocalDate today) {
        Map<UUID, LocalDate> first = new HashMap<>();
        if (worker == null) {
            return first;
        }
        for (ScheduleService.Day day : schedules.inForce().map(schedules::days).orElse(List.of())) {
            for (ScheduleService.PersonDay one : day.people()) {
                if (one.id().equals(worker) && !day.date().isBefore(today)) {
                    one.slots().stream()
                            .map(ScheduleService.Slot::task)
                            .flatMap(t -> Optional.ofNullable(t).stream())
                            .forEach(t -> first.putIfAbsent(t.id(), day.date()));
                }
            }
        }
        return first;
    }

    /** Sums of what a person logged in a span of days, both included: one for paid and one for unpaid work, if any. */
    public List<LabourReport.Line> logged(Known person, LocalDate from, LocalDate to) {
        String key = String.valueOf(person.sumKey());
        return labour.lines(LabourReport.By.PERSON, from, to).stream()
                .filter(line -> line.key().equals(key))
                .toList();
    }
}
