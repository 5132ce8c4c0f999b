package org.evenwash.logger.report;

import java.awt.Color;
import java.io.IOException;
import org.apache.pdfbox.cos.COSDictionary;
import org.apache.pdfbox.cos.COSName;
import org.apache.pdfbox.pdmodel.PDPageContentStream;
import org.apache.pdfbox.pdmodel.documentinterchange.markedcontent.PDPropertyList;
import org.apache.pdfbox.pdmodel.graphics.state.RenderingMode;

/** Puts a line of text on a page: letters as letters, the state shapes as drawn shapes. */
final class TextPainter {
    /** Makes a regular letter as heavy as a bold one, in parts of the type size. */
    private static final double THICKER = 0.03;

    /** Distance from the centre of a circle to the handles of its four Bézier arcs, radius 1. */
    private static final float ARC = 0.5523f;

    private TextPainter() {}

    static void paint(
            PDPageContentStream out,
            Typeface type,
            String text,
            double x,
            double baseline,
            double size,
            boolean bold,
            Color color)
            throws IOException {
        double at = x;
        for (Typeface.Run run : type.runs(text, bold)) {
            if (run.font() == null) {
                shape(out, run.text(), at + size * 0.05, baseline, size * 0.8, color);
            } else {
                letters(out, run, at, baseline, size, color);
            }
            at += run.width(size);
        }
    }

    private static void letters(
            PDPageContentStream out,
            Typeface.Run run,
            double x,
            double baseline,
            double size,
            Color color)
            throws IOException {
        out.beginText();
        out.setFont(run.font(), (float) size);
        out.setNonStrokingColor(color);
        if (run.thicken()) {
            out.setStrokingColor(color);
            out.setLineWidth((float) (THICKER * size));
            out.setRenderingMode(RenderingMode.FILL_STROKE);
        }
        out.newLineAtOffset((float) x, (float) baseline);
        out.showText(run.text());
        if (run.thicken()) {
            out.setRenderingMode(RenderingMode.FILL);
        }
        out.endText();
    }

    /** Read aloud as the letter that it stands for. */
    private static void shape(
            PDPageContentStream out,
            String shape,
            double x,
            double baseline,
            double size,
            Color color)
            throws IOException {
        COSDictionary spoken = new COSDictionary();
        spoken.setString(COSName.ACTUAL_TEXT, shape);
        out.beginMarkedContent(COSName.getPDFName("Span"), PDPropertyList.create(spoken));
        out.setNonStrokingColor(color);
        out.setStrokingColor(color);
        out.setLineWidth((float) (size / 9));
        float r = (float) (size * 0.42);
        float cx = (float) (x + size / 2);
        float cy = (float) (baseline + size * 0.42);
        switch (shape) {
            case "▲" -> {
                out.moveTo(cx - r * 1.1f, cy - r);
                out.lineTo(cx + r * 1.1f, cy - r);
                out.lineTo(cx, cy + r * 1.1f);
                out.closePath();
                out.fill();
            }
            case "●" -> {
                circle(out, cx, cy, r);
                out.fill();
            }
            case "◐" -> {
                out.moveTo(cx, cy + r);
                out.curveTo(cx - ARC * r, cy + r, cx - r, cy + ARC * r, cx - r, cy);
                out.curveTo(cx - r, cy - ARC * r, cx - ARC * r, cy - r, cx, cy - r);
                out.closePath();
                out.fill();
                circle(out, cx, cy, r);
                out.stroke();
            }
            default -> {
                circle(out, cx, cy, r);
                out.stroke();
            }
        }
        out.endMarkedContent();
    }

    static void circle(PDPageContentStream out, float x, float y, float r) throws IOException {
        out.moveTo(x + r, y);
        out.curveTo(x + r, y + ARC * r, x + ARC * r, y + r, x, y + r);
        out.curveTo(x - ARC * r, y + r, x - r, y + ARC * r, x - r, y);
        out.curveTo(x - r, y - ARC * r, x - ARC * r, y - r, x, y - r);
        out.curveTo(x + ARC * r, y - r, x + r, y - ARC * r, x + r, y);
        out.closePath();
    }
}
