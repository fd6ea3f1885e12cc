package org.rootling.exchange.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.rootling.exchange.Sheet;
import org.rootling.exchange.Spreadsheets;
import org.rootling.platform.Listing;
import org.springframework.context.annotation.Configuration;
import org.springframework.validation.Errors;
import org.springframework.web.servlet.HandlerInterceptor;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.View;
import org.springframework.web.servlet.config.annotation.InterceptorRegistry;
import org.springframework.web.servlet.config.annotation.WebMvcConfigurer;

/**
 * Answers with a list of a page as CSV or XLSX instead of the page, where the request asks for it. Where the page could not
 * read what it was asked, it is shown with its errors instead.
 */
@Configuration(proxyBeanMethods = false)
class ListFiles implements WebMvcConfigurer, HandlerInterceptor {

    private static final String CSV = "text/csv;charset=UTF-8";
    /** A byte order mark, so that spreadsheets read accents rightly. */
    private static final byte[] MARK = {(byte) 0xEF, (byte) 0xBB, (byte) 0xBF};

    private static final String XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";

    @Override
    public void addInterceptors(InterceptorRegistry registry) {
        registry.addInterceptor(this).addPathPatterns("/v/**", "/licences", "/account/**");
    }

    @Override
    public void postHandle(
            HttpServletRequest request, HttpServletResponse response, Object handler, @Nullable ModelAndView page) {
        String csv = request.getParameter("list-csv");
        String wanted = csv == null ? request.getParameter("list-xlsx") : csv;
        if (page == null || wanted == null || !request.getMethod().equals("GET")) {
            return;
        }
        if (page.getModel().values().stream().anyMatch(v -> v instanceof Errors asked && asked.hasErrors())) {
            return;
        }
        for (Object value : page.getModel().values()) {
            if (value instanceof Listing<?> listing && listing.name().equals(wanted)) {
                page.setView(new FileView(listing, csv != null));
                return;
            }
        }
    }

    private record FileView(Listing<?> listing, boolean csv) implements View {

        @Override
        public void render(@Nullable Map<String, ?> model, HttpServletRequest request, HttpServletResponse response)
                throws Exception {
            Sheet sheet = new Sheet(listing.name(), listing.headings(), listing.cells());
            response.setContentType(csv ? CSV : XLSX);
            response.setHeader(
                    "Content-Disposition",
                    "attachment; filename=\"" + listing.name() + (csv ? ".csv" : ".xlsx") + "\"");
            if (csv) {
                response.getOutputStream().write(MARK);
                Spreadsheets.csv(sheet, response.getOutputStream());
            } else {
                Spreadsheets.xlsx(List.of(sheet), response.getOutputStream());
            }
        }
    }
}
