package org.rootling.platform;

import java.lang.reflect.Method;
import java.util.UUID;
import org.aopalliance.intercept.MethodInterceptor;
import org.aopalliance.intercept.MethodInvocation;
import org.jspecify.annotations.Nullable;
import org.springframework.aop.support.StaticMethodMatcherPointcutAdvisor;
import org.springframework.beans.factory.config.BeanDefinition;
import org.springframework.context.annotation.Role;
import org.springframework.core.Ordered;
import org.springframework.modulith.events.ApplicationModuleListener;
import org.springframework.stereotype.Component;

/** Runs a module's event listener for the vineyard of its event, before its transaction begins. */
@Component
@Role(BeanDefinition.ROLE_INFRASTRUCTURE)
class EventTenancy extends StaticMethodMatcherPointcutAdvisor {

    EventTenancy() {
        super((MethodInterceptor) EventTenancy::inVineyard);
        setOrder(Ordered.HIGHEST_PRECEDENCE + 10);
    }

    @Override
    public boolean matches(Method method, Class<?> type) {
        return method.isAnnotationPresent(ApplicationModuleListener.class)
                && method.getParameterCount() == 1
                && VineyardEvent.class.isAssignableFrom(method.getParameterTypes()[0]);
    }

    private static @Nullable Object inVineyard(MethodInvocation call) throws Throwable {
        UUID vineyard = Tenancy.vineyardOrNull();
        UUID account = Tenancy.accountOrNull();
        Tenancy.set(((VineyardEvent) call.getArguments()[0]).vineyardId(), account);
        try {
            return call.proceed();
        } finally {
            Tenancy.set(vineyard, account);
        }
    }
}
