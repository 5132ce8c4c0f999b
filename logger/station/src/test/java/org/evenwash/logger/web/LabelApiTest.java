package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.google.zxing.BinaryBitmap;
import com.google.zxing.DecodeHintType;
import com.google.zxing.NotFoundException;
import com.google.zxing.RGBLuminanceSource;
import com.google.zxing.Result;
import com.google.zxing.common.HybridBinarizer;
import com.google.zxing.multi.qrcode.QRCodeMultiReader;
import java.awt.image.BufferedImage;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.rendering.PDFRenderer;
import org.evenwash.logger.report.LabelLayout;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.wash.By;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Labels, read back from paper by another program than the one that made them. */
class LabelApiTest {
    private static final String ADDRESS = "http://logger.local:8080";
    private static final int DPI = 200;

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

    private HttpResponse<byte[]> labels(String body) {
        return visitor.postForBytes("/api/labels", body);
    }

    private String colonies(List<Colony> colonies, String layout, String more) {
        return "{\"colonies\":["
                + colonies.stream()
                        .map(one -> '"' + one.id().toString() + '"')
                        .collect(Collectors.joining(","))
                + "],\"layout\":\""
                + layout
                + "\",\"address\":\""
                + ADDRESS
                + "/\""
                + more
                + "}";
    }

    /** What a phone would read from each page. */
    private static List<List<String>> codes(byte[] pdf) throws IOException, NotFoundException {
        List<List<String>> pages = new ArrayList<>();
        try (PDDocument document = Loader.loadPDF(pdf)) {
            PDFRenderer renderer = new PDFRenderer(document);
            for (int page = 0; page < document.getNumberOfPages(); page++) {
                BufferedImage image = renderer.renderImageWithDPI(page, DPI);
                int[] pixels =
                        image.getRGB(
                                0,
                                0,
                                image.getWidth(),
                                image.getHeight(),
                                null,
                                0,
                                image.getWidth());
                BinaryBitmap bitmap =
                        new BinaryBitmap(
                                new HybridBinarizer(
                                        new RGBLuminanceSource(
                                                image.getWidth(), image.getHeight(), pixels)));
                List<String> found = new ArrayList<>();
                Result[] all =
                        new QRCodeMultiReader()
                                .decodeMultiple(bitmap, Map.of(DecodeHintType.TRY_HARDER, true));
                for (Result result : all) {
                    found.add(result.getText());
                }
                pages.add(found);
            }
        }
        return pages;
    }

    @Test
    void everyLayout_codesLeadToTheColonies() throws IOException, NotFoundException {
        List<Colony> two = List.of(scene.alder, scene.birch);
        String[] addresses =
                two.stream().map(one -> ADDRESS + "/colonies/" + one.id()).toArray(String[]::new);
        for (LabelLayout layout : LabelLayout.ALL) {
            HttpResponse<byte[]> answer = labels(colonies(two, layout.id(), ""));
            assertThat(answer.statusCode()).as(layout.id()).isEqualTo(200);
            ReportReader.keep("labels-" + layout.id() + ".pdf", answer.body());
            List<List<String>> pages = codes(answer.body());
            assertThat(pages).as(layout.id()).hasSize(layout.single() ? 2 : 1);
            assertThat(pages.stream().flatMap(List::stream))
                    .as(layout.id())
                    .containsExactlyInAnyOrder(addresses);
            assertThat(ReportReader.text(answer.body())).contains("Alder", "Birch", "Hollow Lane");
        }
    }

    @Test
    void begunSheet_goesOnAtItsFirstFreeLabel_andThenOnTheNext() {
        byte[] pdf =
                labels(colonies(List.of(scene.alder, scene.birch), "a4-24", ",\"firstLabel\":24"))
                        .body();
        assertThat(ReportReader.pages(pdf)).isEqualTo(2);
    }

    @Test
    void jarsOfADay_leadToTheirWashes() throws IOException, NotFoundException {
        scene.planADay();
        var steps = scene.place.days().steps(scene.day.id());
        String washes =
                steps.stream()
                        .map(one -> '"' + one.washId().toString() + '"')
                        .collect(Collectors.joining(","));
        byte[] pdf =
                labels(
                                "{\"dayId\":\""
                                        + scene.day.id()
                                        + "\",\"washes\":["
                                        + washes
                                        + "],\"layout\":\"a4-21\",\"address\":\""
                                        + ADDRESS
                                        + "\"}")
                        .body();
        assertThat(codes(pdf).get(0))
                .containsExactlyInAnyOrder(
                        ADDRESS + "/washes/" + steps.get(0).washId(),
                        ADDRESS + "/washes/" + steps.get(1).washId());
        assertThat(ReportReader.text(pdf)).contains("No. 1", "No. 2", "20 May 2031");
    }

    @Test
    void longNames_keepTheCodeReadable() throws IOException, NotFoundException {
        Colony long1 =
                scene.place
                        .yard()
                        .addColony(scene.alder.apiaryId(), "Long ".repeat(12).strip(), By.nobody());
        Colony long2 =
                scene.place.yard().addColony(scene.alder.apiaryId(), "W".repeat(60), By.nobody());
        byte[] pdf = labels(colonies(List.of(long1, long2), "62x29", "")).body();
        assertThat(codes(pdf).get(1)).containsExactly(ADDRESS + "/colonies/" + long2.id());
        ReportLayoutTest.assertWithinPaper(pdf);
    }

    @Test
    void address_isKeptForTheNextLabels_andALocalOneIsWarnedOf() {
        assertThat(visitor.get("/labels").body()).contains("only works on this computer");
        labels(colonies(List.of(scene.alder), "a4-24", ""));
        assertThat(visitor.get("/labels").body())
                .contains("value=\"" + ADDRESS + "\"")
                .doesNotContain("only works on this computer");
    }

    @Test
    void mistakes_areNamedAtTheirField() {
        assertThat(labels(colonies(List.of(), "a4-24", "")).statusCode()).isEqualTo(422);
        assertThat(text(labels(colonies(List.of(scene.alder), "a3-1", ""))))
                .contains("a4-24", "62x29");
        assertThat(text(labels(colonies(List.of(scene.alder), "a4-24", ",\"firstLabel\":25"))))
                .contains("First label");
        String bad =
                "{\"colonies\":\""
                        + scene.alder.id()
                        + "\",\"layout\":\"a4-24\",\"address\":\"ftp:x\"}";
        assertThat(text(labels(bad))).contains("where phones find this logger");
    }

    private static String text(HttpResponse<byte[]> answer) {
        assertThat(answer.statusCode()).isEqualTo(422);
        return new String(answer.body(), StandardCharsets.UTF_8);
    }
}
