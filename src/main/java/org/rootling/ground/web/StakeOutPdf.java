package org.rootling.ground.web;

import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import org.rootling.platform.PdfWriter;
import org.springframework.context.ApplicationContext;
import org.springframework.stereotype.Component;
import org.thymeleaf.context.Context;
import org.thymeleaf.spring6.SpringTemplateEngine;
import org.thymeleaf.spring6.expression.ThymeleafEvaluationContext;

/** The stake-out sheet as an A4 PDF. */
@Component
class StakeOutPdf {
    // the page's own colours, since a drawing inside a PDF does not see the page's style sheet
    private static final String INK = "<style>.boundary{fill:none;stroke:#000}.headland{fill:none;stroke:#555}"
            + ".exclusion{fill:#eee;stroke:#555}.line{stroke:#555}.post{fill:#000;stroke:#000}"
            + ".peg{fill:none;stroke:#000}.corner,.peg-letter{font-weight:bold}.place{fill:none;stroke:#555}text{fill:#000;font-family:sans-serif}</style>";

    private final SpringTemplateEngine templates;
    private final ApplicationContext beans;

    StakeOutPdf(SpringTemplateEngine templates, ApplicationContext beans) {
        this.templates = templates;
        this.beans = beans;
    }

    byte[] write(Map<String, Object> model, Locale locale) {
        Map<String, Object> own = new HashMap<>(model);
        String plan = String.valueOf(own.get("plan"));
        int end = plan.indexOf("</svg>") + "</svg>".length();
        String svg = plan.substring(plan.indexOf("<svg"), end).replaceFirst("<title>", INK + "<title>");
        own.put("drawing", svg.replaceFirst("<svg ", "<svg width=\"480\" height=\"360\" "));
        // outside a request templates reach beans such as the units only through this
        own.put(
                ThymeleafEvaluationContext.THYMELEAF_EVALUATION_CONTEXT_CONTEXT_VARIABLE_NAME,
                new ThymeleafEvaluationContext(beans, null));
        return PdfWriter.bytes(templates.process("ground/stake-out-pdf", new Context(locale, own)));
    }
}
