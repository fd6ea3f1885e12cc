package org.rootling.people.web;

import org.springframework.context.annotation.Configuration;
import org.springframework.web.servlet.config.annotation.InterceptorRegistry;
import org.springframework.web.servlet.config.annotation.WebMvcConfigurer;

/** Puts the vineyard's door in front of its pages and its API. */
@Configuration(proxyBeanMethods = false)
class PeopleWebConfig implements WebMvcConfigurer {

    private final VineyardInterceptor interceptor;
    private final Wishes wishes;

    PeopleWebConfig(VineyardInterceptor interceptor, Wishes wishes) {
        this.interceptor = interceptor;
        this.wishes = wishes;
    }

    @Override
    public void addInterceptors(InterceptorRegistry registry) {
        registry.addInterceptor(interceptor).addPathPatterns("/v/**", "/api/**");
        registry.addInterceptor(wishes)
                .addPathPatterns("/account/**", "/vineyards", "/join/**", "/licences", "/offline", "/error");
    }
}
