package org.evenwash.logger.chart;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Locale;
import java.util.regex.Pattern;

/** Writes a picture as SVG text. */
public final class PictureSvg {
    static final String FONT = "Atkinson Hyperlegible, system-ui, sans-serif";

    private static final Pattern CONTROL = Pattern.compile("\\p{Cntrl}");

    private PictureSvg() {}

    /**
     * To stand inside a page: no style element (so it passes a strict content security policy), no
     * background, colours from the page.
     */
    public static String inPage(Picture picture) {
        return svg(picture, "");
    }

    /** A file of its own: paper behind it, and dark where the reader's surroundings are dark. */
    public static String alone(Picture picture) {
        return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                + svg(
                        picture,
                        "<style>"
                                + Ink.darkStyle()
                                + "</style>\n"
                                + "<rect width=\"100%\" height=\"100%\" fill=\""
                                + Ink.PAPER.css()
                                + "\"/>\n");
    }

    private static String svg(Picture picture, String before) {
        StringBuilder svg = new StringBuilder(2_000);
        svg.append("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 ")
                .append(number(picture.width()))
                .append(' ')
                .append(number(picture.height()))
                .append("\" width=\"")
                .append(number(picture.width()))
                .append("\" height=\"")
                .append(number(picture.height()))
                .append("\" class=\"picture\" role=\"img\" font-family=\"")
                .append(FONT)
                .append("\">\n<title>")
                .append(escape(picture.title()))
                .append("</title>\n<desc>")
                .append(escape(picture.description()))
                .append("</desc>\n")
                .append(before);
        picture.shapes().forEach(shape -> svg.append(element(shape)).append('\n'));
        return svg.append("</svg>\n").toString();
    }

    private static String element(Shape shape) {
        if (shape instanceof Shape.Box box) {
            return open("rect", box)
                    + rectangle(box.x(), box.y(), box.width(), box.height())
                    + attribute("fill", box.fill().css())
                    + (box.opacity() < 1 ? attribute("fill-opacity", number(box.opacity())) : "")
                    + "/>";
        }
        if (shape instanceof Shape.Frame frame) {
            return open("rect", frame)
                    + rectangle(frame.x(), frame.y(), frame.width(), frame.height())
                    + attribute("fill", "none")
                    + attribute("stroke", frame.stroke().css())
                    + "/>";
        }
        if (shape instanceof Shape.Line line) {
            return open("line", line)
                    + attribute("x1", number(line.x1()))
                    + attribute("y1", number(line.y1()))
                    + attribute("x2", number(line.x2()))
                    + attribute("y2", number(line.y2()))
                    + attribute("stroke", line.stroke().css())
                    + attribute("stroke-width", number(line.width()))
                    + (line.dashed() ? attribute("stroke-dasharray", "4 3") : "")
                    + "/>";
        }
        if (shape instanceof Shape.Dot dot) {
            return open("circle", dot)
                    + attribute("cx", number(dot.x()))
                    + attribute("cy", number(dot.y()))
                    + attribute("r", number(dot.radius()))
                    + attribute("fill", dot.fill().css())
                    + attribute("stroke", dot.ring().css())
                    + attribute("stroke-width", number(dot.ringWidth()))
                    + "/>";
        }
        if (shape instanceof Shape.Path path) {
            return path(path);
        }
        if (shape instanceof Shape.Label label) {
            return open("text", label)
                    + attribute("x", number(label.x()))
                    + attribute("y", number(label.y()))
                    + attribute("text-anchor", label.anchor().name().toLowerCase(Locale.ROOT))
                    + attribute("font-size", number(label.size()))
                    + attribute("fill", label.ink().css())
                    + ">"
                    + escape(label.text())
                    + "</text>";
        }
        throw new IllegalStateException("unknown shape " + shape);
    }

    private static String path(Shape.Path path) {
        StringBuilder points = new StringBuilder();
        for (Shape.Point point : path.points()) {
            points.append(points.length() == 0 ? "" : " ")
                    .append(number(point.x()))
                    .append(',')
                    .append(number(point.y()));
        }
        return open(path.filled() ? "polygon" : "polyline", path)
                + attribute("points", points.toString())
                + attribute("fill", path.filled() ? path.ink().css() : "none")
                + (path.filled()
                        ? ""
                        : attribute("stroke", path.ink().css())
                                + attribute("stroke-width", number(path.width())))
                + "/>";
    }

    private static String open(String element, Shape shape) {
        return "<" + element + attribute("class", shape.part());
    }

    private static String rectangle(double x, double y, double width, double height) {
        return attribute("x", number(x))
                + attribute("y", number(y))
                + attribute("width", number(width))
                + attribute("height", number(height));
    }

    private static String attribute(String name, String value) {
        return " " + name + "=\"" + escape(value) + "\"";
    }

    static String number(double value) {
        return BigDecimal.valueOf(value)
                .setScale(2, RoundingMode.HALF_UP)
                .stripTrailingZeros()
                .toPlainString();
    }

    /** For text and attributes; control characters, which XML cannot hold, become spaces. */
    static String escape(String text) {
        return CONTROL.matcher(text)
                .replaceAll(" ")
                .replace("&", "&amp;")
                .replace("<", "&lt;")
                .replace(">", "&gt;")
                .replace("\"", "&quot;");
    }
}
