package org.rootling.platform;

import java.time.Clock;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

/** Two clocks: real time for sign-in, tokens and sessions; the vineyard's time, which the demo shifts. */
@Configuration(proxyBeanMethods = false)
class TimeConfig {

    @Bean
    Clock realClock() {
        return Clock.systemUTC();
    }

    @Bean
    VineyardTime vineyardTime(Clock realClock) {
        return new VineyardTime(realClock);
    }
}
