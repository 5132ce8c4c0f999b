package org.evenwash.logger.report;

import gg.jte.ContentType;
import gg.jte.TemplateEngine;
import gg.jte.output.StringOutput;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Base64;
import java.util.Map;
import org.evenwash.logger.chart.PictureSvg;

/**
 * Prints a document as one HTML file with its style inside, so that it reads the same however the pages
 * look later. Type is asked of the logger and falls back to the reader's own.
 */
public final class HtmlPrinter {
    private static final TemplateEngine TEMPLATES =
            TemplateEngine.createPrecompiled(
                    null,
                    ContentType.Html,
                    HtmlPrinter.class.getClassLoader(),
                    "org.evenwash.logger.web.pages");

    private HtmlPrinter() {}

    public static byte[] print(Document document) {
        StringOutput out = new StringOutput(32 * 1_024);
        TEMPLATES.render("print/document.jte", Map.of("document", document, "style", style()), out);
        return out.toString().getBytes(StandardCharsets.UTF_8);
    }

    private static String style() {
        try (InputStream file = HtmlPrinter.class.getResourceAsStream("/web/css/report.css")) {
            if (file == null) {
                throw new IllegalStateException("the program lacks its own file report.css");
            }
            return new String(file.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException("cannot read report.css", e);
        }
    }

    /** A picture or a chart as SVG text; for the template. */
    public static String svg(Block block) {
        if (block instanceof Block.Art art) {
            return PictureSvg.inPage(art.picture());
        }
        if (block instanceof Block.Chart chart) {
            return chart.drawing().svgInPage();
        }
        throw new IllegalArgumentException("no picture in " + block);
    }

    /** A photo as an address that holds it. */
    public static String source(Block.Photo photo) {
        return "data:image/jpeg;base64," + Base64.getEncoder().encodeToString(photo.jpeg());
    }
}
