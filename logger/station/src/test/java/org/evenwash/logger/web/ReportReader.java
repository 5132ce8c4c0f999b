package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;

/** Makes reports over HTTP and reads what they say. */
final class ReportReader {
    private final Visitor visitor;

    ReportReader(Visitor visitor) {
        this.visitor = visitor;
    }

    /** @param more further JSON fields, each after a comma */
    JsonNode make(String kind, Object subject, String more) {
        HttpResponse<String> answer =
                visitor.post(
                        "/api/reports",
                        "{\"kind\":\""
                                + kind
                                + "\",\"subjectId\":\""
                                + subject
                                + "\""
                                + more
                                + "}");
        assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
        return Visitor.read(answer).get("result");
    }

    byte[] file(JsonNode report, String format) {
        return visitor.bytes("/api/reports/" + report.get("id").asText() + "/" + format);
    }

    /** Where a person can look at it. */
    static void keep(String name, byte[] bytes) {
        Path folder = Path.of("target", "reports");
        try {
            Files.createDirectories(folder);
            Files.write(folder.resolve(name), bytes);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    String pdfText(JsonNode report) {
        return text(file(report, "pdf"));
    }

    String htmlText(JsonNode report) {
        return new String(file(report, "html"), StandardCharsets.UTF_8)
                .replaceAll("(?s)<style>.*?</style>|<[^>]+>", " ")
                .replace("&lt;", "<")
                .replace("&gt;", ">")
                .replace("&#34;", "\"")
                .replace("&#39;", "'")
                .replace("&amp;", "&");
    }

    /** Every text of its document, descriptions of pictures apart. */
    List<String> words(JsonNode report) {
        List<String> words = new ArrayList<>();
        JsonNode says =
                visitor.json("/api/reports/" + report.get("id").asText()).at("/result/says");
        words.add(says.get("title").asText());
        words.add(says.get("subtitle").asText());
        words.add(says.get("reference").asText());
        for (JsonNode block : says.get("blocks")) {
            if (!block.has("picture")) {
                collect(block, words);
            }
        }
        return words;
    }

    private static void collect(JsonNode node, List<String> words) {
        if (node.isTextual()) {
            words.add(node.asText());
        }
        node.forEach(child -> collect(child, words));
    }

    /** Without spaces, which line breaks move, and without the shapes, which are drawn. */
    static String squeezed(String text) {
        return text.replaceAll("[\\s▲●◐○\\u00A0]", "");
    }

    static String text(byte[] pdf) {
        try (PDDocument document = Loader.loadPDF(pdf)) {
            PDFTextStripper stripper = new PDFTextStripper();
            return stripper.getText(document);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    static int pages(byte[] pdf) {
        try (PDDocument document = Loader.loadPDF(pdf)) {
            return document.getNumberOfPages();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
