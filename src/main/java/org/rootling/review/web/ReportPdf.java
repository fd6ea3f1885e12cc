package org.rootling.review.web;

import java.io.IOException;
import java.io.OutputStream;
import java.util.Map;
import org.rootling.platform.PdfWriter;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.context.ApplicationContext;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.core.convert.ConversionService;
import org.springframework.stereotype.Component;
import org.thymeleaf.ITemplateEngine;
import org.thymeleaf.context.Context;
import org.thymeleaf.spring6.expression.ThymeleafEvaluationContext;

/** Turns a template of ours into a PDF. */
@Component
class ReportPdf {

    private final ITemplateEngine templates;
    private final ApplicationContext beans;
    private final ConversionService conversions;

    ReportPdf(
            ITemplateEngine templates,
            ApplicationContext beans,
            @Qualifier("mvcConversionService") ConversionService conversions) {
        this.templates = templates;
        this.beans = beans;
        this.conversions = conversions;
    }

    void write(String template, Map<String, Object> model, OutputStream out) throws IOException {
        Context context = new Context(LocaleContextHolder.getLocale(), model);
        context.setVariable(
                ThymeleafEvaluationContext.THYMELEAF_EVALUATION_CONTEXT_CONTEXT_VARIABLE_NAME,
                new ThymeleafEvaluationContext(beans, conversions));
        PdfWriter.write(templates.process(template, context), out);
    }
}
