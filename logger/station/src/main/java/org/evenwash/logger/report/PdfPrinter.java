package org.evenwash.logger.report;

import java.awt.Color;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.Calendar;
import java.util.GregorianCalendar;
import java.util.List;
import java.util.TimeZone;
import org.apache.pdfbox.cos.COSDictionary;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDDocumentInformation;
import org.apache.pdfbox.pdmodel.common.PDRectangle;
import org.apache.pdfbox.pdmodel.documentinterchange.logicalstructure.PDStructureElement;
import org.apache.pdfbox.pdmodel.interactive.documentnavigation.destination.PDPageXYZDestination;
import org.apache.pdfbox.pdmodel.interactive.documentnavigation.outline.PDDocumentOutline;
import org.apache.pdfbox.pdmodel.interactive.documentnavigation.outline.PDOutlineItem;
import org.apache.pdfbox.pdmodel.interactive.viewerpreferences.PDViewerPreferences;
import org.evenwash.logger.chart.Ink;

/**
 * Prints a document as PDF: own fonts embedded, pictures as vectors, tagged for screen readers, with
 * bookmarks. The same document, time and program give the same bytes.
 */
public final class PdfPrinter {
    private static final double TITLE = 20;
    private static final double HEADING = 13;
    static final double TEXT = 10;
    private static final double FIGURE = 30;
    private static final Color NOTE = new Color(0xFBF1DC);

    private final Document source;
    private final PDDocument document;
    private final Typeface type;
    private final Tags tags;
    private final Leaves leaves;
    private final PDDocumentOutline outline = new PDDocumentOutline();

    private PdfPrinter(Document source, PDDocument document) throws IOException {
        this.source = source;
        this.document = document;
        this.type = new Typeface(document);
        this.tags = new Tags(document, source.language());
        this.leaves =
                new Leaves(
                        document,
                        source.letterPaper() ? PDRectangle.LETTER : PDRectangle.A4,
                        type,
                        tags);
    }

    /**
     * @param at when the report was made
     * @param wording for the foot of each page
     */
    public static byte[] print(Document source, Instant at, Wording wording) {
        try (PDDocument document = new PDDocument()) {
            new PdfPrinter(source, document).print(at, wording);
            ByteArrayOutputStream bytes = new ByteArrayOutputStream(64 * 1_024);
            document.save(bytes);
            return bytes.toByteArray();
        } catch (IOException e) {
            throw new UncheckedIOException("the PDF of “" + source.title() + "” failed", e);
        }
    }

    private void print(Instant at, Wording wording) throws IOException {
        describe(document, source.title(), at);
        document.getDocumentCatalog().setDocumentOutline(outline);
        head();
        for (Block block : source.blocks()) {
            print(block);
        }
        leaves.close(
                source.reference(),
                source.demonstration(),
                page -> wording.say("report.page", page, leaves.pages()));
        tags.close();
        outline.openNode();
    }

    /** Title, time and an id that follow from the report, not from the moment of printing. */
    static void describe(PDDocument document, String title, Instant at) {
        PDDocumentInformation about = document.getDocumentInformation();
        about.setTitle(title);
        about.setProducer("Evenwash");
        about.setCreator("Evenwash");
        Calendar time = new GregorianCalendar(TimeZone.getTimeZone(ZoneOffset.UTC));
        time.setTimeInMillis(at.toEpochMilli());
        about.setCreationDate(time);
        about.setModificationDate(time);
        document.setDocumentId(at.toEpochMilli());
        PDViewerPreferences preferences = new PDViewerPreferences(new COSDictionary());
        preferences.setDisplayDocTitle(true);
        document.getDocumentCatalog().setViewerPreferences(preferences);
    }

    private void head() throws IOException {
        paragraph("H1", source.title(), TITLE, true, Ink.INK);
        paragraph("P", source.subtitle(), TEXT + 1, false, Ink.MUTED);
        leaves.down(4);
        leaves.rule(
                Leaves.MARGIN, Leaves.MARGIN + leaves.width(), leaves.y(), Ink.INK.light(), 0.8);
        leaves.down(10);
    }

    private void paragraph(String tag, String text, double size, boolean bold, Ink ink)
            throws IOException {
        leaves.paragraph(
                Tags.under(tags.document(), tag), text, size, bold, ink, 0, leaves.width());
    }

    private void print(Block block) throws IOException {
        if (block instanceof Block.Heading heading) {
            heading(heading.text());
        } else if (block instanceof Block.Paragraph paragraph) {
            paragraph(paragraph);
        } else if (block instanceof Block.Figure figure) {
            figure(figure);
        } else if (block instanceof Block.Facts facts) {
            new TablePrinter(leaves, type, tags).facts(facts);
        } else if (block instanceof Block.Table table) {
            new TablePrinter(leaves, type, tags).table(table);
        } else if (block instanceof Block.Lines lines) {
            lines(lines);
        } else if (block instanceof Block.Art art) {
            new ImagePrinter(document, leaves, type, tags).art(art.picture());
        } else if (block instanceof Block.Chart chart) {
            new ImagePrinter(document, leaves, type, tags).chart(chart.drawing());
        } else if (block instanceof Block.Photos photos) {
            new ImagePrinter(document, leaves, type, tags).photos(photos.photos());
        } else {
            throw new IllegalStateException("unknown block " + block);
        }
    }

    private void heading(String text) throws IOException {
        leaves.down(leaves.atTop() ? 0 : 10);
        // A heading never stands alone at the foot of a page.
        leaves.ensure(HEADING * Leaves.LEADING + 50);
        PDOutlineItem mark = new PDOutlineItem();
        mark.setTitle(text);
        PDPageXYZDestination there = new PDPageXYZDestination();
        there.setPage(leaves.page());
        there.setTop((int) Math.round(leaves.y()));
        mark.setDestination(there);
        outline.addLast(mark);
        paragraph("H2", text, HEADING, true, Ink.INK);
        leaves.down(3);
    }

    private void paragraph(Block.Paragraph paragraph) throws IOException {
        PDStructureElement element = Tags.under(tags.document(), "P");
        switch (paragraph.tone()) {
            case PLAIN ->
                    leaves.paragraph(element, paragraph.text(), TEXT, false, Ink.INK, 0, measure());
            case MUTED ->
                    leaves.paragraph(
                            element, paragraph.text(), TEXT, false, Ink.MUTED, 0, measure());
            case NOTE -> note(element, paragraph.text());
        }
        leaves.down(4);
    }

    /** Lines stay readable: under about 90 letters. */
    private double measure() {
        return Math.min(leaves.width(), 46 * TEXT);
    }

    private void note(PDStructureElement element, String text) throws IOException {
        double width = leaves.width() - 16;
        int lines = type.lines(text, TEXT, true, width).size();
        double height = lines * TEXT * Leaves.LEADING + 10;
        leaves.ensure(height);
        leaves.box(Leaves.MARGIN, leaves.y() - height, leaves.width(), height, NOTE);
        leaves.down(5);
        leaves.paragraph(element, text, TEXT, true, Ink.INK, 8, width);
        leaves.down(5);
    }

    private void figure(Block.Figure figure) throws IOException {
        leaves.ensure(FIGURE * Leaves.LEADING + 2 * TEXT);
        PDStructureElement element = Tags.under(tags.document(), "P");
        double baseline = leaves.y() - FIGURE;
        tags.begin(leaves.out(), leaves.page(), element);
        leaves.line(figure.figure(), Leaves.MARGIN, baseline, FIGURE, true, Ink.INK);
        double after = Leaves.MARGIN + type.width(figure.figure(), FIGURE, true) + 8;
        leaves.line(figure.unit(), after, baseline, TEXT + 2, false, Ink.MUTED);
        leaves.out().endMarkedContent();
        leaves.down(FIGURE * 1.25);
        paragraph("P", figure.limits(), TEXT + 1, false, Ink.INK);
        leaves.down(4);
    }

    private void lines(Block.Lines block) throws IOException {
        PDStructureElement list = Tags.under(tags.document(), "L");
        List<String> lines = block.lines();
        for (int i = 0; i < lines.size(); i++) {
            PDStructureElement item = Tags.under(Tags.under(list, "LI"), "LBody");
            String sign = block.ordered() ? "[" + (i + 1) + "]" : "–";
            leaves.ensure(TEXT * Leaves.LEADING);
            tags.begin(leaves.out(), leaves.page(), item);
            leaves.line(sign, Leaves.MARGIN, leaves.y() - TEXT, TEXT, false, Ink.MUTED);
            leaves.out().endMarkedContent();
            leaves.paragraph(item, lines.get(i), TEXT, false, Ink.INK, 18, leaves.width() - 18);
            leaves.down(2);
        }
        leaves.down(4);
    }
}
