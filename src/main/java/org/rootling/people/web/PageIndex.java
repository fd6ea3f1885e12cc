package org.rootling.people.web;

import static org.rootling.people.Role.HELPER;
import static org.rootling.people.Role.LEAD;
import static org.rootling.people.Role.OWNER;
import static org.rootling.people.Role.READER;

import java.util.List;
import org.rootling.people.Role;

/** The index on the page "More": what stands on its own and is not a step of something else, by menu. */
final class PageIndex {

    /**
     * A page.
     *
     * @param least who may open it, and whoever may do more
     * @param title message key of its heading
     */
    record Page(Role least, String path, String title) {}

    /** The pages of a menu. */
    record Card(String menu, List<Page> pages) {}

    private static final List<Card> ALL = List.of(
            new Card(
                    "waiting",
                    List.of(
                            new Page(READER, "/orders", "nursery.orders.title"),
                            new Page(LEAD, "/orders/new", "nursery.orders.new"),
                            new Page(LEAD, "/deliveries/new", "nursery.waiting.take-delivery"),
                            new Page(READER, "/lots/all", "nursery.waiting.lots"),
                            new Page(READER, "/stores", "nursery.stores.title"),
                            new Page(LEAD, "/stores/new", "nursery.stores.new"),
                            new Page(READER, "/store-limits", "nursery.limits.title"),
                            new Page(READER, "/nurseries", "nursery.suppliers.title"),
                            new Page(READER, "/vine-lists", "nursery.lists.title"),
                            new Page(READER, "/how-many", "nursery.how-many.title"),
                            new Page(READER, "/labels", "nursery.labels.title"),
                            new Page(READER, "/passports", "nursery.passports.title"),
                            new Page(READER, "/calendar", "nursery.calendar.title"))),
            new Card(
                    "ground",
                    List.of(
                            new Page(LEAD, "/blocks/new", "ground.new.title"),
                            new Page(LEAD, "/blocks/tape", "ground.tape.title"),
                            new Page(LEAD, "/blocks/walk", "ground.walk.title"),
                            new Page(LEAD, "/blocks/import", "ground.import.title"),
                            new Page(READER, "/trellis/order", "trellis.order.title"))),
            new Card(
                    "work",
                    List.of(
                            new Page(LEAD, "/work/plan", "work.plan.title"),
                            new Page(READER, "/work/steps", "work.steps.title"),
                            new Page(LEAD, "/work/steps/new", "work.steps.add"),
                            new Page(READER, "/work/schedule", "work.schedule.title"),
                            new Page(READER, "/work/week", "work.week.title"),
                            new Page(READER, "/work/sheet", "work.sheet.title"),
                            new Page(HELPER, "/my-day/sheet", "work.sheet.mine"),
                            new Page(READER, "/work/outlook", "work.outlook.title"),
                            new Page(LEAD, "/work/people", "work.people.title"),
                            new Page(LEAD, "/work/people/new", "work.people.add"),
                            new Page(LEAD, "/work/hours", "work.hours.title"),
                            new Page(LEAD, "/work/conflicts", "work.conflicts.title"))),
            new Card(
                    "vines",
                    List.of(
                            new Page(READER, "/checklist", "training.list.title"),
                            new Page(OWNER, "/checklist/new", "training.list.add"))),
            new Card(
                    "count",
                    List.of(
                            new Page(READER, "/progress/vines", "review.vines.title"),
                            new Page(READER, "/review/numbers", "review.numbers.title"),
                            new Page(READER, "/review/heights", "review.heights.title"),
                            new Page(READER, "/review/replacing", "review.replacing.title"),
                            new Page(READER, "/review/register", "review.register.title"),
                            new Page(READER, "/review/season", "review.season.title"),
                            new Page(READER, "/review/report", "review.report.title"),
                            new Page(READER, "/find", "review.find.title"))),
            new Card(
                    "more",
                    List.of(
                            new Page(READER, "/weather/days", "weather.days.title"),
                            new Page(HELPER, "/weather/day", "weather.day.title"),
                            new Page(LEAD, "/weather/import", "weather.import.title"),
                            new Page(LEAD, "/weather/settings", "weather.settings.title"),
                            new Page(OWNER, "/archive/restore", "exchange.restore.title"),
                            new Page(OWNER, "/delete", "people.delete.vineyard-title"))));

    private PageIndex() {}

    /** Those that someone of the role may open. */
    static List<Card> of(Role role) {
        return ALL.stream()
                .map(card -> new Card(
                        card.menu(),
                        card.pages().stream()
                                .filter(page -> role.includes(page.least()))
                                .toList()))
                .toList();
    }
}
