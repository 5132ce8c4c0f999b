package org.evenwash.logger.chart;

import java.util.List;

/**
 * A drawing that knows how it is read aloud. Anything that can paint the shapes can print it: SVG,
 * PNG, a PDF page.
 *
 * @param title one line for screen readers
 * @param description the whole content in words
 */
public record Picture(
        double width, double height, String title, String description, List<Shape> shapes) {
    public Picture {
        shapes = List.copyOf(shapes);
    }
}
