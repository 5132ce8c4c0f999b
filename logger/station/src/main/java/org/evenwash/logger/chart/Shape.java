package org.evenwash.logger.chart;

import java.util.List;

/**
 * What a picture is made of; lengths in CSS pixels, y downwards. Each shape names the part it plays
 * ("bar", "threshold"), which becomes its class.
 */
public sealed interface Shape {
    String part();

    /** Opacity 0 to 1; no outline. */
    record Box(
            String part, double x, double y, double width, double height, Ink fill, double opacity)
            implements Shape {}

    /** Outline only. */
    record Frame(String part, double x, double y, double width, double height, Ink stroke)
            implements Shape {}

    record Line(
            String part,
            double x1,
            double y1,
            double x2,
            double y2,
            Ink stroke,
            double width,
            boolean dashed)
            implements Shape {}

    /** A filled circle with a ring; a hollow one has paper inside. */
    record Dot(String part, double x, double y, double radius, Ink fill, Ink ring, double ringWidth)
            implements Shape {}

    /** A filled polygon, or an open stroked path. */
    record Path(String part, List<Point> points, boolean filled, Ink ink, double width)
            implements Shape {
        public Path {
            points = List.copyOf(points);
        }
    }

    record Point(double x, double y) {}

    /** Text on a baseline. */
    record Label(String part, double x, double y, String text, Anchor anchor, double size, Ink ink)
            implements Shape {}

    /** Which end of a label stands at its x. */
    enum Anchor {
        START,
        MIDDLE,
        END
    }
}
