package org.rootling.platform;

import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.jspecify.annotations.Nullable;
import org.springframework.web.context.request.RequestAttributes;
import org.springframework.web.context.request.RequestContextHolder;

/** What a request knew of its vineyard and person, for work that goes on after the request has ended. */
final class KeptAttributes implements RequestAttributes {

    private static final String OURS = "rootling.";

    private final Map<String, Object> kept = new ConcurrentHashMap<>();

    /** Those of the current request; none outside of one. */
    static KeptAttributes ofThisRequest() {
        KeptAttributes kept = new KeptAttributes();
        RequestAttributes now = RequestContextHolder.getRequestAttributes();
        if (now != null) {
            for (String name : now.getAttributeNames(SCOPE_REQUEST)) {
                Object value = name.startsWith(OURS) ? now.getAttribute(name, SCOPE_REQUEST) : null;
                if (value != null) {
                    kept.kept.put(name, value);
                }
            }
        }
        return kept;
    }

    @Override
    public @Nullable Object getAttribute(String name, int scope) {
        return kept.get(name);
    }

    @Override
    public void setAttribute(String name, Object value, int scope) {
        kept.put(name, value);
    }

    @Override
    public void removeAttribute(String name, int scope) {
        kept.remove(name);
    }

    @Override
    public String[] getAttributeNames(int scope) {
        return kept.keySet().toArray(String[]::new);
    }

    @Override
    public void registerDestructionCallback(String name, Runnable callback, int scope) {
        // nothing is destroyed: what was kept belongs to nobody else
    }

    @Override
    public @Nullable Object resolveReference(String key) {
        return null;
    }

    @Override
    public String getSessionId() {
        return "";
    }

    @Override
    public Object getSessionMutex() {
        return this;
    }
}
