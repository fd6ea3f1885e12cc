package org.rootling.review.web;

import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FontStyle;
import com.openhtmltopdf.outputdevice.helper.ExternalResourceControlPriority;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.svgsupport.BatikSVGDrawer;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.util.Map;
import java.util.Objects;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.context.ApplicationContext;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.core.convert.ConversionService;
import org.springframework.stereotype.Component;
import org.thymeleaf.ITemplateEngine;
import org.thymeleaf.context.Context;
import org.thymeleaf.spring6.expression.ThymeleafEvaluationContext;

/** Turns a template of ours into a PDF. Nothing outside the template is ever loaded: no file, no address. */
@Component
class ReportPdf {

    /** Comes with the PDF library (Liberation Sans, SIL Open Font License): Latin, Greek and Cyrillic. */
    private static final String FONT = "/org/apache/pdfbox/resources/ttf/LiberationSans-Regular.ttf";

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
        String page = templates.process(template, context);
        try (BatikSVGDrawer drawings = new BatikSVGDrawer()) {
            PdfRendererBuilder builder = new PdfRendererBuilder();
            builder.useFont(ReportPdf::font, "Notebook", 400, FontStyle.NORMAL, true);
            builder.useSVGDrawer(drawings);
            builder.useExternalResourceAccessControl(
                    (address, kind) -> false, ExternalResourceControlPriority.RUN_BEFORE_RESOLVING_URI);
            builder.useExternalResourceAccessControl(
                    (address, kind) -> false, ExternalResourceControlPriority.RUN_AFTER_RESOLVING_URI);
            builder.withHtmlContent(page, null);
            builder.toStream(out);
            builder.run();
        }
    }

    private static InputStream font() {
        return Objects.requireNonNull(ReportPdf.class.getResourceAsStream(FONT), FONT);
    }
}
