package org.evenwash.logger.chart;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Font;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Line2D;
import java.awt.geom.Path2D;
import java.awt.geom.Rectangle2D;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import javax.imageio.ImageIO;

/** Paints a picture, in its light colours, for reports and for programs that cannot read SVG. */
public final class PicturePng {
    /** Pixels to a CSS pixel: sharp in print at the sizes used. */
    static final int SCALE = 3;

    private PicturePng() {}

    public static byte[] png(Picture picture) {
        BufferedImage image =
                new BufferedImage(
                        (int) Math.ceil(picture.width() * SCALE),
                        (int) Math.ceil(picture.height() * SCALE),
                        BufferedImage.TYPE_INT_RGB);
        Graphics2D graphics = image.createGraphics();
        graphics.setColor(Ink.PAPER.light());
        graphics.fillRect(0, 0, image.getWidth(), image.getHeight());
        graphics.scale(SCALE, SCALE);
        paint(picture, graphics);
        graphics.dispose();
        return encoded(image);
    }

    /** Onto any surface whose unit is the CSS pixel. */
    public static void paint(Picture picture, Graphics2D graphics) {
        graphics.setRenderingHint(
                RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
        graphics.setRenderingHint(
                RenderingHints.KEY_TEXT_ANTIALIASING, RenderingHints.VALUE_TEXT_ANTIALIAS_ON);
        picture.shapes().forEach(shape -> paint(shape, graphics));
    }

    private static void paint(Shape shape, Graphics2D graphics) {
        if (shape instanceof Shape.Box box) {
            Color fill = box.fill().light();
            int alpha = (int) Math.round(255 * box.opacity());
            graphics.setColor(new Color(fill.getRed(), fill.getGreen(), fill.getBlue(), alpha));
            graphics.fill(new Rectangle2D.Double(box.x(), box.y(), box.width(), box.height()));
        } else if (shape instanceof Shape.Frame frame) {
            graphics.setColor(frame.stroke().light());
            graphics.setStroke(new BasicStroke(1));
            graphics.draw(
                    new Rectangle2D.Double(frame.x(), frame.y(), frame.width(), frame.height()));
        } else if (shape instanceof Shape.Line line) {
            graphics.setColor(line.stroke().light());
            graphics.setStroke(stroke(line.width(), line.dashed()));
            graphics.draw(new Line2D.Double(line.x1(), line.y1(), line.x2(), line.y2()));
        } else if (shape instanceof Shape.Dot dot) {
            double r = dot.radius();
            Ellipse2D circle = new Ellipse2D.Double(dot.x() - r, dot.y() - r, 2 * r, 2 * r);
            graphics.setColor(dot.fill().light());
            graphics.fill(circle);
            graphics.setColor(dot.ring().light());
            graphics.setStroke(stroke(dot.ringWidth(), false));
            graphics.draw(circle);
        } else if (shape instanceof Shape.Path path) {
            paint(path, graphics);
        } else if (shape instanceof Shape.Label label) {
            paint(label, graphics);
        }
    }

    private static void paint(Shape.Path path, Graphics2D graphics) {
        Path2D line = new Path2D.Double();
        for (Shape.Point point : path.points()) {
            if (line.getCurrentPoint() == null) {
                line.moveTo(point.x(), point.y());
            } else {
                line.lineTo(point.x(), point.y());
            }
        }
        graphics.setColor(path.ink().light());
        if (path.filled()) {
            graphics.fill(line);
        } else {
            graphics.setStroke(stroke(path.width(), false));
            graphics.draw(line);
        }
    }

    private static void paint(Shape.Label label, Graphics2D graphics) {
        graphics.setFont(new Font(Font.SANS_SERIF, Font.PLAIN, 1).deriveFont((float) label.size()));
        graphics.setColor(label.ink().light());
        double width = graphics.getFontMetrics().getStringBounds(label.text(), graphics).getWidth();
        double left =
                switch (label.anchor()) {
                    case START -> label.x();
                    case MIDDLE -> label.x() - width / 2;
                    case END -> label.x() - width;
                };
        graphics.drawString(label.text(), (float) left, (float) label.y());
    }

    private static BasicStroke stroke(double width, boolean dashed) {
        return dashed
                ? new BasicStroke(
                        (float) width,
                        BasicStroke.CAP_BUTT,
                        BasicStroke.JOIN_MITER,
                        10,
                        new float[] {4, 3},
                        0)
                : new BasicStroke((float) width);
    }

    static byte[] encoded(BufferedImage image) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try {
            ImageIO.write(image, "png", bytes);
        } catch (IOException impossible) {
            throw new UncheckedIOException("writing a PNG to memory", impossible);
        }
        return bytes.toByteArray();
    }
}
