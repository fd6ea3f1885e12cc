package org.rootling.ground.web;

import com.openhtmltopdf.outputdevice.helper.ExternalResourceControlPriority;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.svgsupport.BatikSVGDrawer;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.parsers.ParserConfigurationException;
import org.springframework.context.ApplicationContext;
import org.springframework.stereotype.Component;
import org.thymeleaf.context.Context;
import org.thymeleaf.spring6.SpringTemplateEngine;
import org.thymeleaf.spring6.expression.ThymeleafEvaluationContext;
import org.w3c.dom.Document;
import org.xml.sax.InputSource;
import org.xml.sax.SAXException;

/** The stake-out sheet as an A4 PDF; reads nothing but what it is handed. */
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
        String page = templates.process("ground/stake-out-pdf", new Context(locale, own));
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        try {
            PdfRendererBuilder builder = new PdfRendererBuilder();
            builder.useSVGDrawer(new BatikSVGDrawer());
            builder.useExternalResourceAccessControl(
                    (uri, type) -> false, ExternalResourceControlPriority.RUN_BEFORE_RESOLVING_URI);
            builder.withW3cDocument(parsed(page), "about:blank");
            builder.toStream(out);
            builder.run();
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
        return out.toByteArray();
    }

    private static Document parsed(String page) throws IOException {
        try {
            DocumentBuilderFactory factory = DocumentBuilderFactory.newDefaultInstance();
            factory.setFeature("http://apache.org/xml/features/disallow-doctype-decl", true);
            factory.setNamespaceAware(true);
            return factory.newDocumentBuilder().parse(new InputSource(new StringReader(page)));
        } catch (ParserConfigurationException | SAXException broken) {
            throw new IllegalStateException("the sheet is no well-formed page", broken);
        }
    }
}
