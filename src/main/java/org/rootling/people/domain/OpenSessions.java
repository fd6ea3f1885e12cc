package org.rootling.people.domain;

import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import org.springframework.session.FindByIndexNameSessionRepository;
import org.springframework.session.Session;
import org.springframework.stereotype.Service;

/** Where a person is signed in, and how to end that. */
@Service
public class OpenSessions {

    /** Session attribute with the browser's own description, kept at sign-in. */
    public static final String AGENT = "rootling.agent";

    /** Session attribute with the moment, in ms, at which a day link signed a phone in. */
    public static final String LINKED = "rootling.linked";

    /**
     * One session.
     *
     * @param key names it without giving it away
     * @param device what browser on what system, as far as it says
     */
    public record Open(String key, String device, Instant since, Instant lastSeen, boolean thisOne) {}

    private final FindByIndexNameSessionRepository<? extends Session> sessions;

    OpenSessions(FindByIndexNameSessionRepository<? extends Session> sessions) {
        this.sessions = sessions;
    }

    /** The sessions of a person, the last seen first. */
    public List<Open> of(String email, String current) {
        return found(email).values().stream()
                .filter(session -> !session.isExpired())
                .map(session -> new Open(
                        Secrets.hash(session.getId()),
                        device(session.getAttribute(AGENT)),
                        session.getCreationTime(),
                        session.getLastAccessedTime(),
                        session.getId().equals(current)))
                .sorted(Comparator.comparing(Open::lastSeen).reversed())
                .toList();
    }

    /** Ends one session of the person. */
    public void end(String email, String key) {
        found(email).keySet().stream()
                .filter(id -> Secrets.hash(id).equals(key))
                .forEach(sessions::deleteById);
    }

    /** Ends all sessions of the person but this one. */
    public void endOthers(String email, String current) {
        found(email).keySet().stream().filter(id -> !id.equals(current)).forEach(sessions::deleteById);
    }

    /**
     * Whether no phone was signed in by the person's day link after this one. Two phones that open a link in the same
     * moment cannot see each other yet; of these the later keeps it, and of the same millisecond one of them.
     */
    public boolean latestLinked(String email, String current) {
        Map<String, ? extends Session> all = found(email);
        Session own = all.get(current);
        if (own == null) {
            return true;
        }
        Comparator<Session> order =
                Comparator.<Session>comparingLong(OpenSessions::linked).thenComparing(Session::getId);
        return all.values().stream()
                .filter(session -> !session.isExpired())
                .noneMatch(session -> order.compare(session, own) > 0);
    }

    private static long linked(Session session) {
        Object at = session.getAttribute(LINKED);
        return at instanceof Long ms ? ms : 0;
    }

    /** Ends all sessions of the person. */
    public void endAll(String email) {
        found(email).keySet().forEach(sessions::deleteById);
    }

    private Map<String, ? extends Session> found(String email) {
        return sessions.findByPrincipalName(email);
    }

    /** Browser and system in two words; the full text would tell more than anyone needs to keep. */
    static String device(@org.jspecify.annotations.Nullable String agent) {
        String text = agent == null ? "" : agent;
        String browser = text.contains("Edg/")
                ? "Edge"
                : text.contains("Firefox/")
                        ? "Firefox"
                        : text.contains("Chrom") ? "Chrome" : text.contains("Safari/") ? "Safari" : "?";
        String system = text.contains("Android")
                ? "Android"
                : text.contains("iPhone") || text.contains("iPad")
                        ? "iOS"
                        : text.contains("Windows")
                                ? "Windows"
                                : text.contains("Mac OS X") ? "macOS" : text.contains("Linux") ? "Linux" : "?";
        return browser + ", " + system;
    }
}
