package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import javax.imageio.ImageIO;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.cos.COSName;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.font.PDFont;
import org.apache.pdfbox.pdmodel.graphics.image.PDImageXObject;
import org.apache.pdfbox.pdmodel.interactive.documentnavigation.outline.PDOutlineItem;
import org.apache.pdfbox.text.PDFTextStripper;
import org.apache.pdfbox.text.TextPosition;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.Frame;
import org.evenwash.logger.store.QueenCheck;
import org.evenwash.logger.store.Wash;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.NewWash;
import org.evenwash.record.Pass;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Reports as paper: what fits, what is embedded, what a screen reader is told. */
class ReportLayoutTest {
    private Scene scene;
    private Visitor visitor;
    private ReportReader reports;

    @BeforeEach
    void open(@TempDir Path folder) {
        scene = Scene.populated(folder);
        visitor = new Visitor(scene);
        reports = new ReportReader(visitor);
    }

    @AfterEach
    void close() {
        scene.close();
    }

    private Wash wash(UUID colonyId, LocalDate day, int mites, String remarks) {
        Wash wash =
                scene.place
                        .washes()
                        .plan(
                                new NewWash(
                                        colonyId,
                                        day,
                                        scene.ada.id(),
                                        Frame.BROOD_NEST,
                                        QueenCheck.SEEN_ELSEWHERE,
                                        remarks,
                                        false),
                                By.nobody());
        scene.place
                .washes()
                .enterBees(wash.id(), 1, BeeMeasure.COUNTED, 300, null, null, "", By.nobody());
        scene.place.counting().enter(wash.id(), Pass.FIRST, mites, null, By.nobody());
        return wash;
    }

    /** Every letter lies on the paper, and 1.5 mm from its edge at least. */
    static void assertWithinPaper(byte[] pdf) {
        double least = 1.5 * 72 / 25.4;
        try (PDDocument document = Loader.loadPDF(pdf)) {
            new PDFTextStripper() {
                @Override
                protected void processTextPosition(TextPosition letter) {
                    float width = getCurrentPage().getMediaBox().getWidth();
                    float height = getCurrentPage().getMediaBox().getHeight();
                    assertThat(letter.getX()).isGreaterThan((float) least);
                    assertThat(letter.getX() + letter.getWidth())
                            .isLessThan((float) (width - least));
                    assertThat(letter.getY()).isBetween((float) least, (float) (height - least));
                }
            }.getText(document);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Test
    void manyWashesAndEndlessNames_runOverToFurtherPages_withHeadsAndNumbers() {
        Colony colony =
                scene.place.yard().addColony(scene.alder.apiaryId(), "X".repeat(60), By.nobody());
        for (int i = 0; i < 40; i++) {
            wash(colony.id(), LocalDate.of(2030, 1, 1).plusWeeks(i), i % 7, "");
        }
        JsonNode report = reports.make("COLONY", colony.id(), "");
        byte[] pdf = reports.file(report, "pdf");
        int pages = ReportReader.pages(pdf);
        String text = ReportReader.text(pdf);
        assertThat(pages).isBetween(3, 6);
        assertThat(text).contains("Page 1 of " + pages, "Page " + pages + " of " + pages);
        // The heads of the table stand on each of its pages.
        assertThat(text.split("Verdict", -1).length - 1).isBetween(pages - 1, pages);
        assertThat(text.split("in 300", -1)).hasSize(41);
        assertWithinPaper(pdf);
        ReportReader.keep("overflow.pdf", pdf);
    }

    @Test
    void longestRemark_fits() {
        Wash wash =
                wash(scene.alder.id(), LocalDate.of(2031, 5, 1), 2, "word ".repeat(399).strip());
        byte[] pdf = reports.file(reports.make("WASH", wash.id(), ""), "pdf");
        assertThat(ReportReader.text(pdf).split("word", -1)).hasSize(400);
        assertWithinPaper(pdf);
    }

    /** Latin beyond the usual, Greek, Cyrillic and Hebrew come from fonts that the program brings. */
    @Test
    void namesInOtherLetters_arePrinted() {
        for (String name : List.of("Łódź-Çeşme", "Μέλισσα", "Вулик № 3", "כוורת")) {
            Colony colony = scene.place.yard().addColony(scene.alder.apiaryId(), name, By.nobody());
            Wash wash = wash(colony.id(), LocalDate.of(2031, 5, 2), 1, "");
            byte[] pdf = reports.file(reports.make("WASH", wash.id(), ""), "pdf");
            assertThat(ReportReader.text(pdf)).contains(name);
            ReportReader.keep("letters-" + (int) name.charAt(0) + ".pdf", pdf);
        }
    }

    /** A letter that no font here has becomes an empty box in the PDF; the page has it all the same. */
    @Test
    void lettersWithoutAFont_spoilNothing() {
        String name = "\uD808\uDC00 Alder 2";
        Colony colony = scene.place.yard().addColony(scene.alder.apiaryId(), name, By.nobody());
        JsonNode report = reports.make("COLONY", colony.id(), "");
        assertThat(reports.pdfText(report)).contains("□ Alder 2");
        assertThat(new String(reports.file(report, "html"), StandardCharsets.UTF_8)).contains(name);
    }

    @Test
    void pdf_hasTitleLanguageBookmarksTagsAndItsFonts() throws IOException {
        byte[] pdf = reports.file(reports.make("WASH", scene.counted.id(), ""), "pdf");
        try (PDDocument document = Loader.loadPDF(pdf)) {
            assertThat(document.getDocumentInformation().getTitle()).isEqualTo("Wash of Alder");
            assertThat(document.getDocumentCatalog().getLanguage()).isEqualTo("en");
            assertThat(document.getDocumentCatalog().getMarkInfo().isMarked()).isTrue();
            assertThat(document.getDocumentCatalog().getStructureTreeRoot().getKids()).hasSize(1);
            PDOutlineItem first =
                    document.getDocumentCatalog().getDocumentOutline().getFirstChild();
            assertThat(first.getTitle()).isEqualTo("Result");
            for (PDPage page : document.getPages()) {
                for (COSName name : page.getResources().getFontNames()) {
                    PDFont font = page.getResources().getFont(name);
                    assertThat(font.isEmbedded()).as(font.getName()).isTrue();
                }
                // Pictures are lines, not pixels.
                for (COSName name : page.getResources().getXObjectNames()) {
                    assertThat(page.getResources().getXObject(name))
                            .isNotInstanceOf(PDImageXObject.class);
                }
            }
        }
    }

    @Test
    void photo_standsInTheReport_shrunk() throws IOException {
        ByteArrayOutputStream png = new ByteArrayOutputStream();
        ImageIO.write(new BufferedImage(1_600, 1_200, BufferedImage.TYPE_INT_RGB), "png", png);
        scene.place.photos().add(scene.counted.id(), png.toByteArray(), By.nobody());
        JsonNode report = reports.make("WASH", scene.counted.id(), "");
        int images = 0;
        try (PDDocument document = Loader.loadPDF(reports.file(report, "pdf"))) {
            for (PDPage page : document.getPages()) {
                for (COSName name : page.getResources().getXObjectNames()) {
                    if (page.getResources().getXObject(name) instanceof PDImageXObject image) {
                        assertThat(image.getWidth()).isEqualTo(1_000);
                        images++;
                    }
                }
            }
        }
        assertThat(images).isEqualTo(1);
        assertThat(new String(reports.file(report, "html"), StandardCharsets.UTF_8))
                .contains("data:image/jpeg;base64,");
    }

    @Test
    void readerWhereLetterPaperIsUsed_getsIt() throws IOException {
        Visitor american = new Visitor(scene, "en-US");
        ReportReader theirs = new ReportReader(american);
        JsonNode report = theirs.make("WASH", scene.counted.id(), "");
        try (PDDocument document = Loader.loadPDF(theirs.file(report, "pdf"))) {
            assertThat(document.getPage(0).getMediaBox().getWidth()).isEqualTo(612);
        }
        assertThat(theirs.pdfText(report)).contains("May 18, 2031");
    }
}
