package org.evenwash.logger.report;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.PDPageContentStream;
import org.apache.pdfbox.pdmodel.common.PDRectangle;
import org.evenwash.logger.chart.Ink;

/** Writes over the top of every page of a copy; what was handed out stays as it is. */
public final class Stamp {
    private static final double SIZE = 9;
    private static final double MOST_LINES = 2;

    private Stamp() {}

    public static byte[] onEveryPage(byte[] pdf, String text) {
        try (PDDocument document = Loader.loadPDF(pdf)) {
            Typeface type = new Typeface(document);
            for (PDPage page : document.getPages()) {
                stamp(document, page, type, text);
            }
            ByteArrayOutputStream bytes = new ByteArrayOutputStream(pdf.length + 64 * 1_024);
            document.save(bytes);
            return bytes.toByteArray();
        } catch (IOException e) {
            throw new UncheckedIOException("the PDF could not be marked", e);
        }
    }

    private static void stamp(PDDocument document, PDPage page, Typeface type, String text)
            throws IOException {
        PDRectangle size = page.getMediaBox();
        double width = size.getWidth() - 2 * Leaves.MARGIN;
        try (PDPageContentStream out =
                new PDPageContentStream(
                        document, page, PDPageContentStream.AppendMode.APPEND, true, true)) {
            List<String> lines = type.lines(text, SIZE, true, width);
            double baseline = size.getHeight() - Leaves.mm(8);
            for (int i = 0; i < Math.min(MOST_LINES, lines.size()); i++) {
                TextPainter.paint(
                        out,
                        type,
                        lines.get(i),
                        Leaves.MARGIN,
                        baseline - i * SIZE * 1.25,
                        SIZE,
                        true,
                        Ink.DANGER.light());
            }
        }
    }
}
