package org.rootling.people.web;

import jakarta.servlet.http.HttpServletRequest;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.time.Clock;
import java.time.Duration;
import org.jspecify.annotations.Nullable;
import org.rootling.people.domain.OpenSessions;
import org.rootling.people.domain.SecondFactorNeeded;
import org.rootling.people.domain.SecondFactors;
import org.rootling.people.domain.SignInThrottle;
import org.rootling.people.domain.SignedIn;
import org.rootling.platform.web.HeavyWork;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.core.annotation.Order;
import org.springframework.core.env.Environment;
import org.springframework.core.env.Profiles;
import org.springframework.security.authentication.AuthenticationProvider;
import org.springframework.security.authentication.LockedException;
import org.springframework.security.authentication.dao.DaoAuthenticationProvider;
import org.springframework.security.authorization.AuthorizationDecision;
import org.springframework.security.config.annotation.web.builders.HttpSecurity;
import org.springframework.security.config.http.SessionCreationPolicy;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.AuthenticationException;
import org.springframework.security.core.userdetails.UserDetailsService;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.security.web.SecurityFilterChain;
import org.springframework.security.web.authentication.AnonymousAuthenticationFilter;
import org.springframework.security.web.authentication.SavedRequestAwareAuthenticationSuccessHandler;
import org.springframework.security.web.context.SecurityContextHolderFilter;
import org.springframework.security.web.csrf.CsrfFilter;
import org.springframework.security.web.header.writers.CrossOriginOpenerPolicyHeaderWriter;
import org.springframework.security.web.header.writers.CrossOriginResourcePolicyHeaderWriter;
import org.springframework.security.web.header.writers.ReferrerPolicyHeaderWriter.ReferrerPolicy;
import org.springframework.security.web.savedrequest.HttpSessionRequestCache;
import org.springframework.web.context.request.RequestContextHolder;
import org.springframework.web.context.request.ServletRequestAttributes;

/** Two doors: pages with a session and CSRF tokens, the API with bearer tokens and no session. */
@Configuration(proxyBeanMethods = false)
class SecurityConfig {

    static final String CONTENT_SECURITY_POLICY = "default-src 'none'; script-src 'self'; style-src 'self'; "
            + "img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; manifest-src 'self'; worker-src 'self'; "
            + "form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

    /** What {@code rootling.password-rounds} may not fall below: OWASP, Password Storage Cheat Sheet. */
    private static final int LEAST_ROUNDS = 210_000;

    /** Fewer rounds than are advised are for the profile "test" only. */
    @Bean
    PasswordEncoder passwordEncoder(Environment environment) {
        int rounds = environment.getProperty("rootling.password-rounds", Integer.class, SlowHash.ROUNDS);
        if (rounds < LEAST_ROUNDS && !environment.acceptsProfiles(Profiles.of("test"))) {
            throw new IllegalStateException("rootling.password-rounds must be at least " + LEAST_ROUNDS);
        }
        return new SlowHash(rounds);
    }

    @Bean
    @Order(1)
    SecurityFilterChain api(HttpSecurity http, TokenFilter tokens, HeavyWork heavy) {
        return http.securityMatcher("/api/**")
                .csrf(csrf -> csrf.disable())
                .sessionManagement(session -> session.sessionCreationPolicy(SessionCreationPolicy.STATELESS))
                .requestCache(cache -> cache.disable())
                .addFilterBefore(new BodyLimit(), CsrfFilter.class)
                .addFilterBefore(tokens, AnonymousAuthenticationFilter.class)
                .addFilterAfter(heavy, AnonymousAuthenticationFilter.class)
                .exceptionHandling(errors -> errors.authenticationEntryPoint(new ApiEntryPoint()))
                .authorizeHttpRequests(requests -> requests.anyRequest().authenticated())
                .build();
    }

    @Bean
    @Order(2)
    SecurityFilterChain pages(
            HttpSecurity http,
            AuthenticationProvider throttled,
            SignInThrottle throttle,
            KnownDevice devices,
            Clock realClock,
            HeavyWork heavy,
            Environment environment) {
        SavedRequestAwareAuthenticationSuccessHandler welcome = new SavedRequestAwareAuthenticationSuccessHandler();
        welcome.setDefaultTargetUrl("/");
        HttpSessionRequestCache opened = new HttpSessionRequestCache();
        opened.setRequestMatcher(asked -> asked.getMethod().equals("GET") && ScriptWithoutSession.opensPage(asked));
        welcome.setRequestCache(opened);
        return http.authenticationProvider(throttled)
                .addFilterBefore(
                        new SessionAge(
                                realClock,
                                environment.getProperty(
                                        "rootling.session.longest", Duration.class, Duration.ofDays(60))),
                        SecurityContextHolderFilter.class)
                .addFilterBefore(heavy, CsrfFilter.class)
                .addFilterBefore(new BodyLimit(), CsrfFilter.class)
                .addFilterBefore(new ScriptWithoutSession(), CsrfFilter.class)
                .requestCache(cache -> cache.requestCache(opened))
                // Not a new id for the old session: a script that asked with the old id in the same moment would write
                // that back.
                .sessionManagement(session -> session.sessionFixation(fixation -> fixation.migrateSession()))
                .authorizeHttpRequests(requests -> requests.requestMatchers(
                                "/sign-in",
                                "/sign-in/code",
                                "/setup",
                                "/join/**",
                                "/forgotten",
                                "/way-in/**",
                                "/day/**",
                                "/day-over",
                                "/css/**",
                                "/js/**",
                                "/img/**",
                                "/manifest.webmanifest",
                                "/service-worker.js",
                                "/offline",
                                "/favicon.ico",
                                "/error",
                                "/calendar/**",
                                "/v3/api-docs/**",
                                "/v3/api-docs.yaml",
                                "/actuator/health/**")
                        .permitAll()
                        .requestMatchers("/actuator/metrics/**")
                        .access((who, asked) ->
                                new AuthorizationDecision(opensMetrics(environment, asked.getRequest())))
                        .requestMatchers("/actuator/**")
                        .denyAll()
                        // A guest has no account to look after, and makes no secrets that outlast the day.
                        .requestMatchers("/v/*/tokens/**", "/v/*/calendar/**")
                        .access((who, asked) -> new AuthorizationDecision(hasAccount(who.get())))
                        .requestMatchers("/", "/v/**", "/licences")
                        .authenticated()
                        .anyRequest()
                        .access((who, asked) -> new AuthorizationDecision(hasAccount(who.get()))))
                .formLogin(form -> form.loginPage("/sign-in")
                        .usernameParameter("email")
                        .successHandler((request, response, authentication) -> {
                            throttle.succeeded(devices.name(request, authentication.getName()));
                            devices.remember(request, response, authentication.getName());
                            request.getSession().setAttribute(OpenSessions.AGENT, CodeController.agent(request));
                            if (authentication.getPrincipal() instanceof SignedIn person) {
                                SecurityLog.signedIn(person.accountId(), "password");
                            }
                            welcome.onAuthenticationSuccess(request, response, authentication);
                        })
                        .failureHandler((request, response, failure) -> {
                            if (failure instanceof SecondFactorNeeded needed) {
                                CodeController.await(request, needed.person(), realClock.instant());
                                response.sendRedirect(request.getContextPath() + "/sign-in/code");
                                return;
                            }
                            boolean waiting = failure instanceof LockedException;
                            SecurityLog.refusedAtTheDoor(waiting ? "too many failures" : "wrong password");
                            if (!waiting) {
                                throttle.failed(
                                        devices.name(request, parameter(request, "email")), request.getRemoteAddr());
                            }
                            response.sendRedirect(
                                    request.getContextPath() + "/sign-in?" + (waiting ? "wait" : "failed"));
                        }))
                .logout(logout -> logout.logoutUrl("/sign-out").logoutSuccessUrl("/sign-in?bye"))
                .headers(headers -> headers.contentSecurityPolicy(csp -> csp.policyDirectives(CONTENT_SECURITY_POLICY))
                        .crossOriginOpenerPolicy(opener ->
                                opener.policy(CrossOriginOpenerPolicyHeaderWriter.CrossOriginOpenerPolicy.SAME_ORIGIN))
                        .crossOriginResourcePolicy(resource -> resource.policy(
                                CrossOriginResourcePolicyHeaderWriter.CrossOriginResourcePolicy.SAME_ORIGIN))
                        .referrerPolicy(referrer -> referrer.policy(ReferrerPolicy.SAME_ORIGIN))
                        .permissionsPolicyHeader(
                                policy -> policy.policy("camera=(self), geolocation=(self), microphone=()")))
                .build();
    }

    private static boolean hasAccount(@Nullable Authentication who) {
        return who != null && who.getPrincipal() instanceof SignedIn person && !person.guest();
    }

    @Bean
    AuthenticationProvider throttled(
            UserDetailsService accounts,
            PasswordEncoder passwordEncoder,
            SignInThrottle throttle,
            KnownDevice devices,
            SecondFactors factors) {
        DaoAuthenticationProvider provider = new DaoAuthenticationProvider(accounts) {
            @Override
            public Authentication authenticate(Authentication asked) throws AuthenticationException {
                HttpServletRequest request =
                        ((ServletRequestAttributes) RequestContextHolder.currentRequestAttributes()).getRequest();
                String name = devices.name(request, asked.getName());
                if (!throttle.allows(name, request.getRemoteAddr())) {
                    throw new LockedException("too many failures");
                }
                Authentication known = super.authenticate(asked);
                if (known.getPrincipal() instanceof SignedIn person && factors.needed(person.accountId())) {
                    throttle.succeeded(name);
                    throw new SecondFactorNeeded(person);
                }
                return known;
            }
        };
        provider.setPasswordEncoder(passwordEncoder);
        return provider;
    }

    /** Measurements are for whoever was given {@code rootling.metrics-token}; without that setting for nobody. */
    private static boolean opensMetrics(Environment environment, HttpServletRequest request) {
        String token = environment.getProperty("rootling.metrics-token", "");
        String given = String.valueOf(request.getHeader("Authorization"));
        return token.length() >= 16
                && MessageDigest.isEqual(
                        ("Bearer " + token).getBytes(StandardCharsets.UTF_8), given.getBytes(StandardCharsets.UTF_8));
    }

    @Bean
    HeavyWork heavyWork(Clock realClock, Environment environment) {
        return new HeavyWork(realClock, environment);
    }

    /** Spring Boot would otherwise add the filter to every request as well, before it is known who asks. */
    @Bean
    org.springframework.boot.web.servlet.FilterRegistrationBean<HeavyWork> heavyOnlyInItsChains(HeavyWork filter) {
        org.springframework.boot.web.servlet.FilterRegistrationBean<HeavyWork> registration =
                new org.springframework.boot.web.servlet.FilterRegistrationBean<>(filter);
        registration.setEnabled(false);
        return registration;
    }

    private static String parameter(HttpServletRequest request, String name) {
        String value = request.getParameter(name);
        return value == null ? "" : value.substring(0, Math.min(value.length(), 300));
    }

    /** Spring Boot would otherwise add the filter to every request as well. */
    @Bean
    org.springframework.boot.web.servlet.FilterRegistrationBean<TokenFilter> tokensOnlyInTheirChain(
            TokenFilter filter) {
        org.springframework.boot.web.servlet.FilterRegistrationBean<TokenFilter> registration =
                new org.springframework.boot.web.servlet.FilterRegistrationBean<>(filter);
        registration.setEnabled(false);
        return registration;
    }
}
