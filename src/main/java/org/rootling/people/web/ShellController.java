package org.rootling.people.web;

import java.io.IOException;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.people.CurrentMember;
import org.rootling.people.Members;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.domain.History;
import org.rootling.platform.Listing;
import org.rootling.platform.NotFound;
import org.springframework.core.io.Resource;
import org.springframework.core.io.support.PathMatchingResourcePatternResolver;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The lesser pages of the shell: more, help, and who changed what. */
@Controller
@RequestMapping("/v/{vineyard}")
class ShellController {

    private final History history;
    private final Members members;
    private final HistoryWords words;
    private final CurrentMember current;
    private final Set<String> helpPages;

    ShellController(History history, Members members, HistoryWords words, CurrentMember current) throws IOException {
        this.history = history;
        this.members = members;
        this.words = words;
        this.current = current;
        this.helpPages = new TreeSet<>();
        for (Resource page :
                new PathMatchingResourcePatternResolver().getResources("classpath*:templates/help/*.html")) {
            helpPages.add(String.valueOf(page.getFilename()).replace(".html", ""));
        }
        helpPages.remove("index");
    }

    @GetMapping("/more")
    @Needs(Role.READER)
    String more(Model model) {
        model.addAttribute("index", PageIndex.of(current.role()));
        return "people/more";
    }

    @GetMapping("/help")
    @Needs(Role.READER)
    String help(Model model) {
        model.addAttribute("pages", helpPages);
        return "help/index";
    }

    @GetMapping("/help/{page}")
    @Needs(Role.READER)
    String helpOn(@PathVariable String page) {
        if (!helpPages.contains(page)) {
            throw new NotFound("help page");
        }
        return "help/" + page;
    }

    @GetMapping("/history")
    @Needs(Role.LEAD)
    String history(
            @RequestParam(required = false) @Nullable String what,
            @RequestParam(required = false) @Nullable UUID who,
            Model model) {
        String table = what == null || what.isBlank() ? null : what;
        Map<UUID, String> names = members.names();
        List<String> tables = history.tables();
        model.addAttribute(
                "lines",
                Listing.<HistoryWords.Line>from("history", wanted -> {
                            History.Found found = history.find(new History.Wanted(
                                    table,
                                    who,
                                    words.sought(wanted.find(), tables, names),
                                    wanted.sort().equals("1"),
                                    number(wanted.after()),
                                    wanted.most()));
                            return new Listing.Piece<>(
                                    words.lines(found.entries(), names),
                                    found.next() == null ? null : found.next().toString());
                        })
                        .by("platform.history.when", l -> l.at().toLocalDateTime())
                        .orderedByThose()
                        .by(
                                "platform.history.who",
                                l -> l.who() == null ? new Listing.Word("platform.history.by-itself") : l.who())
                        .by("platform.history.what", l -> l.what())
                        .by("platform.history.action", l -> new Listing.Word("platform.history." + l.action()))
                        .by("platform.history.change", l -> l.inWords()));
        model.addAttribute("kinds", words.kinds(tables));
        model.addAttribute("names", names);
        model.addAttribute("what", table);
        model.addAttribute("who", who);
        return "people/history";
    }

    private static @Nullable Long number(@Nullable String typed) {
        return typed != null && typed.matches("\\d{1,18}") ? Long.valueOf(typed) : null;
    }
}
