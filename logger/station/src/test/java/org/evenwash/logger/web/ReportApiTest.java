package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Reports, from the request to the bytes. */
class ReportApiTest {
    private Scene scene;
    private Visitor visitor;

    @BeforeEach
    void open(@TempDir Path folder) {
        scene = Scene.populated(folder);
        visitor = new Visitor(scene);
    }

    @AfterEach
    void close() {
        scene.close();
    }

    private JsonNode make(String kind, Object subject, String more) {
        HttpResponse<String> answer =
                visitor.post(
                        "/api/reports",
                        "{\"kind\":\"" + kind + "\",\"subjectId\":\"" + subject + "\"" + more + "}");
        assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
        return Visitor.read(answer).get("result");
    }

    private byte[] file(JsonNode report, String format) {
        return visitor.bytes("/api/reports/" + report.get("id").asText() + "/" + format);
    }

    static String text(byte[] pdf) {
        try (PDDocument document = Loader.loadPDF(pdf)) {
            return new PDFTextStripper().getText(document);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private void keep(String name, byte[] bytes) {
        try {
            Files.createDirectories(Path.of("target", "reports"));
            Files.write(Path.of("target", "reports", name), bytes);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Test
    void wash_pdfPageAndJson_sayTheSame() {
        JsonNode report = make("WASH", scene.counted.id(), "");
        String pdf = text(file(report, "pdf"));
        keep("wash.pdf", file(report, "pdf"));
        keep("wash.html", file(report, "html"));
        String html = new String(file(report, "html"), StandardCharsets.UTF_8);
        assertThat(pdf).contains("Wash of Alder");
        assertThat(html).contains("Wash of Alder");
        keep("colony.pdf", file(make("COLONY", scene.birch.id(), ""), "pdf"));
        keep("day.pdf", file(make("APIARY_DAY", scene.alder.apiaryId(), ",\"onDay\":\"2031-05-18\""), "pdf"));
    }
}
