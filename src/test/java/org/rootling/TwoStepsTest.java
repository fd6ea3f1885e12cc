package org.rootling;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.web.bind.annotation.RequestMethod;
import org.springframework.web.servlet.mvc.method.RequestMappingInfo;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;

/** In an empty vineyard, every page that needs no further choice is at most two links from home. */
@AppTest
class TwoStepsTest {

    private static final String PREFIX = "/v/{vineyard}";

    @Autowired
    @Qualifier("requestMappingHandlerMapping")
    RequestMappingHandlerMapping mapping;

    @Autowired
    TestVineyards vineyards;

    @Test
    void everyPageWithoutFurtherChoiceIsTwoLinksFromHome() {
        TestVineyard vineyard = vineyards.fresh();
        TestBrowser owner = vineyard.as(Role.OWNER);
        Set<String> near = new TreeSet<>(List.of("/"));
        for (int step = 0; step < 2; step++) {
            for (String page : new ArrayList<>(near)) {
                near.addAll(links(owner, vineyard, page));
            }
        }
        List<String> far = new ArrayList<>();
        for (String page : pages()) {
            if (!near.contains(page) && isPage(owner, page)) {
                far.add(page);
            }
        }
        assertThat(far).isEmpty();
    }

    private static boolean isPage(TestBrowser owner, String path) {
        TestBrowser.Answer answer = owner.open(path);
        String type = answer.raw().getResponse().getContentType();
        return answer.status() == 200 && type != null && type.startsWith("text/html");
    }

    private static Set<String> links(TestBrowser owner, TestVineyard vineyard, String path) {
        Set<String> links = new TreeSet<>();
        TestBrowser.Answer answer = owner.open(path);
        if (answer.status() == 200) {
            for (Element link : answer.page().select("a[href^=/v/" + vineyard.slug() + "/]")) {
                links.add(link.attr("href").replaceFirst("[?#].*", "").substring(("/v/" + vineyard.slug()).length()));
            }
        }
        return links;
    }

    /** GET routes inside a vineyard whose address has nothing to choose. */
    private Set<String> pages() {
        Set<String> pages = new TreeSet<>();
        for (RequestMappingInfo info : mapping.getHandlerMethods().keySet()) {
            Set<RequestMethod> methods = info.getMethodsCondition().getMethods();
            if (methods.isEmpty() || methods.contains(RequestMethod.GET)) {
                for (String pattern : info.getPatternValues()) {
                    String rest = pattern.startsWith(PREFIX) ? pattern.substring(PREFIX.length()) : "{";
                    if (!rest.contains("{") && !rest.matches(".*\\.[a-z]+")) {
                        pages.add(rest.isEmpty() ? "/" : rest);
                    }
                }
            }
        }
        return pages;
    }
}
