package org.rootling.platform;

import org.aspectj.lang.ProceedingJoinPoint;
import org.aspectj.lang.annotation.Around;
import org.aspectj.lang.annotation.Aspect;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/** Runs a module's event listener for the vineyard of its event, before its transaction begins. */
@Aspect
@Component
@Order(Ordered.HIGHEST_PRECEDENCE + 10)
class EventTenancy {

    @Around("@annotation(org.springframework.modulith.events.ApplicationModuleListener) && args(event,..)")
    Object inVineyard(ProceedingJoinPoint call, VineyardEvent event) throws Throwable {
        java.util.UUID vineyard = Tenancy.vineyardOrNull();
        java.util.UUID account = Tenancy.accountOrNull();
        Tenancy.set(event.vineyardId(), account);
        try {
            return call.proceed();
        } finally {
            Tenancy.set(vineyard, account);
        }
    }
}
