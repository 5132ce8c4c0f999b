package org.evenwash.logger.report;

import java.awt.Color;
import java.io.IOException;
import org.apache.pdfbox.pdmodel.PDPageContentStream;
import org.apache.pdfbox.pdmodel.graphics.state.PDExtendedGraphicsState;
import org.evenwash.logger.chart.Picture;
import org.evenwash.logger.chart.Shape;

/** Paints a picture of the pages onto paper, line for line, with real letters. */
final class PicturePdf {
    private final PDPageContentStream out;
    private final Typeface type;
    private final double left;
    private final double top;
    private final double scale;

    private PicturePdf(
            PDPageContentStream out, Typeface type, double left, double top, double scale) {
        this.out = out;
        this.type = type;
        this.left = left;
        this.top = top;
        this.scale = scale;
    }

    /**
     * @param left of the picture on the page, points
     * @param top likewise, from the foot of the page
     * @param scale points to a pixel of the picture
     */
    static void paint(
            PDPageContentStream out,
            Typeface type,
            Picture picture,
            double left,
            double top,
            double scale)
            throws IOException {
        PicturePdf pdf = new PicturePdf(out, type, left, top, scale);
        out.saveGraphicsState();
        for (Shape shape : picture.shapes()) {
            pdf.paint(shape);
        }
        out.restoreGraphicsState();
    }

    private float x(double x) {
        return (float) (left + scale * x);
    }

    private float y(double y) {
        return (float) (top - scale * y);
    }

    private float s(double length) {
        return (float) (scale * length);
    }

    private void paint(Shape shape) throws IOException {
        if (shape instanceof Shape.Box box) {
            box(box);
        } else if (shape instanceof Shape.Frame frame) {
            stroke(frame.stroke().light(), 1, false);
            out.addRect(
                    x(frame.x()),
                    y(frame.y() + frame.height()),
                    s(frame.width()),
                    s(frame.height()));
            out.stroke();
        } else if (shape instanceof Shape.Line line) {
            stroke(line.stroke().light(), line.width(), line.dashed());
            out.moveTo(x(line.x1()), y(line.y1()));
            out.lineTo(x(line.x2()), y(line.y2()));
            out.stroke();
        } else if (shape instanceof Shape.Dot dot) {
            stroke(dot.ring().light(), dot.ringWidth(), false);
            out.setNonStrokingColor(dot.fill().light());
            TextPainter.circle(out, x(dot.x()), y(dot.y()), s(dot.radius()));
            out.fillAndStroke();
        } else if (shape instanceof Shape.Path path) {
            path(path);
        } else if (shape instanceof Shape.Label label) {
            label(label);
        }
    }

    private void stroke(Color color, double width, boolean dashed) throws IOException {
        out.setStrokingColor(color);
        out.setLineWidth(s(width));
        out.setLineDashPattern(dashed ? new float[] {s(4), s(3)} : new float[0], 0);
    }

    private void box(Shape.Box box) throws IOException {
        out.saveGraphicsState();
        if (box.opacity() < 1) {
            PDExtendedGraphicsState see = new PDExtendedGraphicsState();
            see.setNonStrokingAlphaConstant((float) box.opacity());
            out.setGraphicsStateParameters(see);
        }
        out.setNonStrokingColor(box.fill().light());
        out.addRect(x(box.x()), y(box.y() + box.height()), s(box.width()), s(box.height()));
        out.fill();
        out.restoreGraphicsState();
    }

    private void path(Shape.Path path) throws IOException {
        boolean first = true;
        for (Shape.Point point : path.points()) {
            if (first) {
                out.moveTo(x(point.x()), y(point.y()));
                first = false;
            } else {
                out.lineTo(x(point.x()), y(point.y()));
            }
        }
        if (path.filled()) {
            out.setNonStrokingColor(path.ink().light());
            out.closePath();
            out.fill();
        } else {
            stroke(path.ink().light(), path.width(), false);
            out.stroke();
        }
    }

    private void label(Shape.Label label) throws IOException {
        double size = scale * label.size();
        double width = type.width(label.text(), size, false);
        double x =
                switch (label.anchor()) {
                    case START -> x(label.x());
                    case MIDDLE -> x(label.x()) - width / 2;
                    case END -> x(label.x()) - width;
                };
        TextPainter.paint(
                out, type, label.text(), x, y(label.y()), size, false, label.ink().light());
    }
}
