package org.rootling.nursery.web;

import jakarta.servlet.http.HttpServletRequest;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.util.List;
import net.fortuna.ical4j.data.CalendarOutputter;
import net.fortuna.ical4j.model.Calendar;
import net.fortuna.ical4j.model.component.VEvent;
import net.fortuna.ical4j.model.property.Description;
import net.fortuna.ical4j.model.property.ProdId;
import net.fortuna.ical4j.model.property.Transp;
import net.fortuna.ical4j.model.property.Uid;
import net.fortuna.ical4j.model.property.Url;
import net.fortuna.ical4j.model.property.XProperty;
import net.fortuna.ical4j.model.property.immutable.ImmutableCalScale;
import net.fortuna.ical4j.model.property.immutable.ImmutableVersion;
import org.rootling.nursery.CalendarSource.Day;
import org.rootling.nursery.domain.CalendarFeed;
import org.rootling.nursery.domain.CalendarFeed.Owner;
import org.rootling.people.CurrentMember;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyard;
import org.rootling.people.Vineyards;
import org.rootling.platform.NotFound;
import org.rootling.platform.Paths;
import org.rootling.platform.Tenancy;
import org.springframework.http.CacheControl;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** A person's private calendar: its page, and the feed (RFC 5545) that calendar programs read without sign-in. */
@Controller
class CalendarController {

    private final CalendarFeed feed;
    private final CurrentMember current;
    private final Vineyards vineyards;

    CalendarController(CalendarFeed feed, CurrentMember current, Vineyards vineyards) {
        this.feed = feed;
        this.current = current;
        this.vineyards = vineyards;
    }

    @GetMapping("/v/{vineyard}/calendar")
    @Needs(Role.READER)
    String page(Model model) {
        model.addAttribute("days", feed.days(current.accountId()));
        model.addAttribute("has", feed.has(current.accountId()));
        return "nursery/calendar";
    }

    @PostMapping("/v/{vineyard}/calendar/address")
    @Needs(Role.READER)
    String make(HttpServletRequest request, RedirectAttributes flash) {
        String base = request.getRequestURL().toString().replaceFirst("/v/.*$", "");
        flash.addFlashAttribute("address", base + "/calendar/" + feed.make(current.accountId()) + ".ics");
        return "redirect:" + Paths.to("/calendar");
    }

    @PostMapping("/v/{vineyard}/calendar/end")
    @Needs(Role.READER)
    String end() {
        feed.revoke(current.accountId());
        return "redirect:" + Paths.to("/calendar");
    }

    @GetMapping("/calendar/{secret}.ics")
    ResponseEntity<byte[]> feed(@PathVariable String secret, HttpServletRequest request) {
        Owner owner = feed.owner(secret).orElseThrow(() -> new NotFound("calendar"));
        String base = request.getRequestURL().toString().replaceFirst("/calendar/.*$", "");
        String text = Tenancy.as(
                owner.vineyardId(),
                owner.accountId(),
                () -> write(vineyards.current(), feed.days(owner.accountId()), base));
        return ResponseEntity.ok()
                .contentType(new MediaType("text", "calendar", StandardCharsets.UTF_8))
                .cacheControl(CacheControl.noStore())
                .body(text.getBytes(StandardCharsets.UTF_8));
    }

    static String write(Vineyard vineyard, List<Day> days, String base) {
        Calendar calendar = new Calendar();
        calendar.add(new ProdId("-//Rootling//Young vineyard//EN"));
        calendar.add(ImmutableVersion.VERSION_2_0);
        calendar.add(ImmutableCalScale.GREGORIAN);
        calendar.add(new XProperty("X-WR-CALNAME", vineyard.name()));
        for (Day day : days) {
            VEvent event = new VEvent(day.on(), day.title());
            event.add(new Uid(day.id() + "@" + vineyard.slug() + ".rootling"));
            event.add(new Description(day.text()));
            event.add(new Url(URI.create(base + "/v/" + vineyard.slug() + day.path())));
            event.add(new Transp(Transp.VALUE_TRANSPARENT));
            calendar.add(event);
        }
        // The outputter folds long lines (RFC 5545 section 3.1); a calendar's own text does not.
        StringWriter folded = new StringWriter();
        try {
            new CalendarOutputter(false).output(calendar, folded);
        } catch (IOException impossible) {
            throw new UncheckedIOException(impossible);
        }
        return folded.toString();
    }
}
