package org.rootling.bench;

import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;

/** A page that runs one trivial query, through the same security and page frame as all others. */
@Controller
class BarePage {

    private final JdbcClient jdbc;

    BarePage(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    @GetMapping("/v/{vineyard}/bare")
    @Needs(Role.READER)
    String show(Model model) {
        model.addAttribute("one", jdbc.sql("select 1").query(Integer.class).single());
        return "bench/bare";
    }
}
