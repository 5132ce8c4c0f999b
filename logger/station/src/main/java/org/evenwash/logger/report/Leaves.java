package org.evenwash.logger.report;

import java.awt.Color;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.function.IntFunction;
import org.apache.pdfbox.cos.COSName;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.PDPageContentStream;
import org.apache.pdfbox.pdmodel.common.PDRectangle;
import org.apache.pdfbox.pdmodel.documentinterchange.logicalstructure.PDStructureElement;
import org.evenwash.logger.chart.Ink;

/** The pages of one PDF, filled from the top; a new one begins when the present one is full. */
final class Leaves {
    /** 18 mm around, 22 mm at the foot. */
    static final double MARGIN = mm(18);

    static final double FOOT = mm(22);
    static final double LEADING = 1.35;
    private static final double SMALL = 8;

    private final PDDocument document;
    private final PDRectangle size;
    private final Typeface type;
    private final Tags tags;
    private final List<PDPage> pages = new ArrayList<>();
    private PDPageContentStream out;
    private double y;

    Leaves(PDDocument document, PDRectangle size, Typeface type, Tags tags) throws IOException {
        this.document = document;
        this.size = size;
        this.type = type;
        this.tags = tags;
        next();
    }

    static double mm(double millimetres) {
        return millimetres * 72 / 25.4;
    }

    double width() {
        return size.getWidth() - 2 * MARGIN;
    }

    /** From the top of a page's text to its foot. */
    double height() {
        return size.getHeight() - MARGIN - FOOT;
    }

    /** Left to the foot of this page. */
    double left() {
        return y - FOOT;
    }

    /** Height of the next line's top above the foot of the paper. */
    double y() {
        return y;
    }

    PDPage page() {
        return pages.get(pages.size() - 1);
    }

    PDPageContentStream out() {
        return out;
    }

    void down(double points) {
        y -= points;
    }

    boolean atTop() {
        return y > size.getHeight() - MARGIN - 1;
    }

    /** Begins a new page unless that much is left. */
    boolean ensure(double points) throws IOException {
        if (left() >= points || atTop()) {
            return false;
        }
        next();
        return true;
    }

    void next() throws IOException {
        if (out != null) {
            out.close();
        }
        PDPage page = new PDPage(size);
        document.addPage(page);
        pages.add(page);
        out = new PDPageContentStream(document, page);
        y = size.getHeight() - MARGIN;
    }

    /** A paragraph over the given width at the given indent; goes on on the next page if need be. */
    void paragraph(
            PDStructureElement element,
            String text,
            double size,
            boolean bold,
            Ink ink,
            double indent,
            double width)
            throws IOException {
        for (String line : type.lines(text, size, bold, width)) {
            ensure(size * LEADING);
            tags.begin(out, page(), element);
            line(line, MARGIN + indent, y - size, size, bold, ink);
            out.endMarkedContent();
            y -= size * LEADING;
        }
    }

    /** One line of text, its baseline at {@code baseline}. */
    void line(String text, double x, double baseline, double size, boolean bold, Ink ink)
            throws IOException {
        TextPainter.paint(out, type, text, x, baseline, size, bold, ink.light());
    }

    void rule(double x1, double x2, double at, Color color, double width) throws IOException {
        out.setStrokingColor(color);
        out.setLineWidth((float) width);
        out.moveTo((float) x1, (float) at);
        out.lineTo((float) x2, (float) at);
        out.stroke();
    }

    void box(double x, double bottom, double width, double height, Color fill) throws IOException {
        out.setNonStrokingColor(fill);
        out.addRect((float) x, (float) bottom, (float) width, (float) height);
        out.fill();
    }

    /** Ends the last page and writes the foot of all. */
    void close(String left, String note, IntFunction<String> pageOf) throws IOException {
        out.close();
        for (int i = 0; i < pages.size(); i++) {
            try (PDPageContentStream foot =
                    new PDPageContentStream(
                            document,
                            pages.get(i),
                            PDPageContentStream.AppendMode.APPEND,
                            true,
                            true)) {
                foot.beginMarkedContent(COSName.ARTIFACT);
                String number = pageOf.apply(i + 1);
                double numberWidth = type.width(number, SMALL, false);
                double room = width() - numberWidth - 12;
                TextPainter.paint(
                        foot,
                        type,
                        type.shortened(left, SMALL, false, room),
                        MARGIN,
                        mm(12),
                        SMALL,
                        false,
                        Ink.MUTED.light());
                TextPainter.paint(
                        foot,
                        type,
                        number,
                        size.getWidth() - MARGIN - numberWidth,
                        mm(12),
                        SMALL,
                        false,
                        Ink.MUTED.light());
                if (note != null) {
                    TextPainter.paint(
                            foot,
                            type,
                            type.shortened(note, SMALL, true, width()),
                            MARGIN,
                            mm(8),
                            SMALL,
                            true,
                            Ink.MUTED.light());
                }
                foot.endMarkedContent();
            }
        }
    }

    int pages() {
        return pages.size();
    }
}
