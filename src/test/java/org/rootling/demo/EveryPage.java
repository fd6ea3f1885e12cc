package org.rootling.demo;

import com.microsoft.playwright.APIResponse;
import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.options.RequestOptions;
import java.net.URI;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.springframework.http.server.PathContainer;
import org.springframework.web.bind.annotation.RequestMethod;
import org.springframework.web.servlet.mvc.method.RequestMappingInfo;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;
import org.springframework.web.util.pattern.PathPattern;

/**
 * Follows every link of a vineyard as a signed-in person, and keeps one address (a few, where asked) for each route of
 * the framework's table.
 */
final class EveryPage {

    /** A page, the route it belongs to, and how many links it is away from home. */
    record Found(String route, String path, int steps, Document page) {}

    private final Map<String, Found> pages = new TreeMap<>();
    private final Map<String, String> files = new TreeMap<>();
    private final Map<String, Integer> broken = new TreeMap<>();
    private final Set<PathPattern> routes = new HashSet<>();

    EveryPage(RequestMappingHandlerMapping mapping, BrowserContext signedIn, String home) {
        for (RequestMappingInfo info : mapping.getHandlerMethods().keySet()) {
            Set<RequestMethod> methods = info.getMethodsCondition().getMethods();
            if (info.getPathPatternsCondition() != null && (methods.isEmpty() || methods.contains(RequestMethod.GET))) {
                routes.addAll(info.getPathPatternsCondition().getPatterns());
            }
        }
        walk(signedIn, home);
    }

    private void walk(BrowserContext signedIn, String home) {
        Map<String, Integer> steps = new HashMap<>(Map.of(home, 0));
        Map<String, Integer> seenOfRoute = new HashMap<>();
        Deque<String> next = new ArrayDeque<>(List.of(home));
        while (!next.isEmpty()) {
            String path = next.remove();
            String route = route(path);
            // The second page of a kind may hold links that the first does not; more of them would only take time.
            if (route == null || files.containsKey(route) || seenOfRoute.merge(route, 1, Integer::sum) > 2) {
                continue;
            }
            APIResponse answer =
                    signedIn.request().get(path, RequestOptions.create().setMaxRedirects(0));
            String type = answer.headers().getOrDefault("content-type", "");
            if (answer.status() >= 400) {
                broken.put(path, answer.status());
            } else if (type.startsWith("text/html")) {
                Document page = Jsoup.parse(answer.text(), path);
                pages.putIfAbsent(route, new Found(route, path, steps.get(path), page));
                for (Element link : page.select("a[href]")) {
                    String to = link.attr("href").replaceFirst("#.*", "");
                    if (to.startsWith("/") && steps.putIfAbsent(to, steps.get(path) + 1) == null) {
                        next.add(to);
                    }
                }
            } else if (answer.status() == 200) {
                files.putIfAbsent(route, path);
            }
            answer.dispose();
        }
    }

    /** A page as a signed-in person gets it; nothing but a page is taken for one. */
    static Document read(BrowserContext signedIn, String path) {
        APIResponse answer =
                signedIn.request().get(path, RequestOptions.create().setMaxRedirects(0));
        try {
            if (answer.status() != 200) {
                throw new AssertionError(path + " answers " + answer.status());
            }
            return Jsoup.parse(answer.text(), path);
        } finally {
            answer.dispose();
        }
    }

    private String route(String path) {
        PathContainer plain = PathContainer.parsePath(URI.create(path).getPath());
        return routes.stream()
                .filter(p -> p.matches(plain))
                .min(PathPattern.SPECIFICITY_COMPARATOR)
                .map(PathPattern::getPatternString)
                .filter(p -> !p.startsWith("/**") && !p.startsWith("/webjars"))
                .orElse(null);
    }

    /** One page for each route that shows one. */
    List<Found> pages() {
        return new ArrayList<>(pages.values());
    }

    /** Links that answered with an error, and with which. */
    Map<String, Integer> broken() {
        return broken;
    }
}
