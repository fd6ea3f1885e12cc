package org.rootling.people;

import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;
import org.springframework.web.context.request.RequestAttributes;
import org.springframework.web.context.request.RequestContextHolder;

/** Who acts in the current request, and in which vineyard. */
@Component
public class CurrentMember {

    /** What is known of the person once the vineyard is chosen. */
    public record Acting(UUID vineyardId, UUID accountId, String name, Role role) {}

    private static final String ATTRIBUTE = "rootling.member";

    public UUID accountId() {
        return acting().accountId();
    }

    public UUID vineyardId() {
        return acting().vineyardId();
    }

    public String name() {
        return acting().name();
    }

    public Role role() {
        return acting().role();
    }

    /** Whether the acting person has at least this role. */
    public boolean may(Role least) {
        return role().includes(least);
    }

    /** The person, or null outside a vineyard. */
    public @Nullable Acting orNull() {
        RequestAttributes request = RequestContextHolder.getRequestAttributes();
        return request == null ? null : (Acting) request.getAttribute(ATTRIBUTE, RequestAttributes.SCOPE_REQUEST);
    }

    /** Fixes who acts for the rest of the request. */
    public void set(Acting acting) {
        RequestContextHolder.currentRequestAttributes()
                .setAttribute(ATTRIBUTE, acting, RequestAttributes.SCOPE_REQUEST);
    }

    private Acting acting() {
        Acting acting = orNull();
        if (acting == null) {
            throw new IllegalStateException("nobody acts in this request");
        }
        return acting;
    }
}
