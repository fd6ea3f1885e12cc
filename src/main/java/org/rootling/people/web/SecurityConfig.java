package org.rootling.people.web;

import jakarta.servlet.http.HttpServletRequest;
import java.util.Map;
import org.rootling.people.domain.SignInThrottle;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.core.annotation.Order;
import org.springframework.security.authentication.AuthenticationProvider;
import org.springframework.security.authentication.LockedException;
import org.springframework.security.authentication.dao.DaoAuthenticationProvider;
import org.springframework.security.config.annotation.web.builders.HttpSecurity;
import org.springframework.security.config.http.SessionCreationPolicy;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.AuthenticationException;
import org.springframework.security.core.userdetails.UserDetailsService;
import org.springframework.security.crypto.password.DelegatingPasswordEncoder;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.security.crypto.password.Pbkdf2PasswordEncoder;
import org.springframework.security.crypto.password.Pbkdf2PasswordEncoder.SecretKeyFactoryAlgorithm;
import org.springframework.security.web.SecurityFilterChain;
import org.springframework.security.web.authentication.AnonymousAuthenticationFilter;
import org.springframework.security.web.authentication.SavedRequestAwareAuthenticationSuccessHandler;
import org.springframework.security.web.authentication.WebAuthenticationDetails;
import org.springframework.security.web.csrf.CsrfFilter;
import org.springframework.security.web.header.writers.ReferrerPolicyHeaderWriter.ReferrerPolicy;

/** Two doors: pages with a session and CSRF tokens, the API with bearer tokens and no session. */
@Configuration(proxyBeanMethods = false)
class SecurityConfig {

    static final String CONTENT_SECURITY_POLICY = "default-src 'none'; script-src 'self'; style-src 'self'; "
            + "img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; manifest-src 'self'; worker-src 'self'; "
            + "form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

    /** PBKDF2 with HMAC-SHA-512 and 220,000 rounds (OWASP Password Storage Cheat Sheet asks for 210,000 or more). */
    @Bean
    PasswordEncoder passwordEncoder() {
        PasswordEncoder current =
                new Pbkdf2PasswordEncoder("", 16, 220_000, SecretKeyFactoryAlgorithm.PBKDF2WithHmacSHA512);
        return new DelegatingPasswordEncoder("pbkdf2-512", Map.of("pbkdf2-512", current));
    }

    @Bean
    @Order(1)
    SecurityFilterChain api(HttpSecurity http, TokenFilter tokens) {
        return http.securityMatcher("/api/**")
                .csrf(csrf -> csrf.disable())
                .sessionManagement(session -> session.sessionCreationPolicy(SessionCreationPolicy.STATELESS))
                .requestCache(cache -> cache.disable())
                .addFilterBefore(new BodyLimit(), CsrfFilter.class)
                .addFilterBefore(tokens, AnonymousAuthenticationFilter.class)
                .exceptionHandling(errors -> errors.authenticationEntryPoint(new ApiEntryPoint()))
                .authorizeHttpRequests(requests -> requests.anyRequest().authenticated())
                .build();
    }

    @Bean
    @Order(2)
    SecurityFilterChain pages(HttpSecurity http, AuthenticationProvider throttled, SignInThrottle throttle) {
        SavedRequestAwareAuthenticationSuccessHandler welcome = new SavedRequestAwareAuthenticationSuccessHandler();
        welcome.setDefaultTargetUrl("/");
        return http.authenticationProvider(throttled)
                .addFilterBefore(new BodyLimit(), CsrfFilter.class)
                .authorizeHttpRequests(requests -> requests.requestMatchers(
                                "/sign-in",
                                "/setup",
                                "/join/**",
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
                                "/actuator/health")
                        .permitAll()
                        .requestMatchers("/actuator/**")
                        .denyAll()
                        .anyRequest()
                        .authenticated())
                .formLogin(form -> form.loginPage("/sign-in")
                        .usernameParameter("email")
                        .successHandler((request, response, authentication) -> {
                            throttle.succeeded(authentication.getName());
                            welcome.onAuthenticationSuccess(request, response, authentication);
                        })
                        .failureHandler((request, response, failure) -> {
                            boolean waiting = failure instanceof LockedException;
                            if (!waiting) {
                                throttle.failed(parameter(request, "email"), request.getRemoteAddr());
                            }
                            response.sendRedirect(
                                    request.getContextPath() + "/sign-in?" + (waiting ? "wait" : "failed"));
                        }))
                .logout(logout -> logout.logoutUrl("/sign-out").logoutSuccessUrl("/sign-in?bye"))
                .headers(headers -> headers.contentSecurityPolicy(csp -> csp.policyDirectives(CONTENT_SECURITY_POLICY))
                        .referrerPolicy(referrer -> referrer.policy(ReferrerPolicy.SAME_ORIGIN))
                        .permissionsPolicyHeader(
                                policy -> policy.policy("camera=(self), geolocation=(self), microphone=()")))
                .build();
    }

    @Bean
    AuthenticationProvider throttled(
            UserDetailsService accounts, PasswordEncoder passwordEncoder, SignInThrottle throttle) {
        DaoAuthenticationProvider provider = new DaoAuthenticationProvider(accounts) {
            @Override
            public Authentication authenticate(Authentication asked) throws AuthenticationException {
                String place = asked.getDetails() instanceof WebAuthenticationDetails details
                        ? String.valueOf(details.getRemoteAddress())
                        : "";
                if (!throttle.allows(asked.getName(), place)) {
                    throw new LockedException("too many failures");
                }
                return super.authenticate(asked);
            }
        };
        provider.setPasswordEncoder(passwordEncoder);
        return provider;
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
