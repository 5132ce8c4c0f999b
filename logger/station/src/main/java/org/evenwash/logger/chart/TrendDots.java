package org.evenwash.logger.chart;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;

/**
 * The last few results of a colony as dots over time, small enough for a row of a list: earlier ones
 * hollow, the last one filled, and the threshold as a dashed line.
 */
public final class TrendDots {
    private static final double WIDTH = 120;
    private static final double HEIGHT = 36;
    private static final double MARGIN = 5;
    private static final double RADIUS = 3;

    private TrendDots() {}

    /** One result, mites per 100 bees. */
    public record Result(LocalDate day, double per100Bees) {}

    /**
     * @param results in order of their days, at least one
     * @param top of the scale, above 0; larger results stand at the top
     * @param threshold per 100 bees
     * @param words the content for who does not see it
     */
    public static Picture draw(
            List<Result> results,
            double top,
            OptionalDouble threshold,
            String title,
            String words) {
        LocalDate first = results.get(0).day();
        double days =
                Math.max(1, ChronoUnit.DAYS.between(first, results.get(results.size() - 1).day()));
        List<Shape> shapes = new ArrayList<>();
        shapes.add(line("axis", y(0, top), Ink.MUTED, false));
        threshold.ifPresent(at -> shapes.add(line("threshold", y(at, top), Ink.INK, true)));
        for (int i = 0; i < results.size(); i++) {
            Result result = results.get(i);
            double share = ChronoUnit.DAYS.between(first, result.day()) / days;
            double x = results.size() == 1 ? WIDTH - MARGIN : MARGIN + share * (WIDTH - 2 * MARGIN);
            Ink fill = i == results.size() - 1 ? Ink.ACCENT : Ink.PAPER;
            shapes.add(
                    new Shape.Dot(
                            "result",
                            x,
                            y(result.per100Bees(), top),
                            RADIUS,
                            fill,
                            Ink.ACCENT,
                            1.5));
        }
        return new Picture(WIDTH, HEIGHT, title, words, shapes);
    }

    private static Shape.Line line(String part, double y, Ink ink, boolean dashed) {
        return new Shape.Line(part, 0, y, WIDTH, y, ink, 1, dashed);
    }

    private static double y(double per100Bees, double top) {
        double share = Math.min(1, per100Bees / top);
        return HEIGHT - MARGIN - share * (HEIGHT - 2 * MARGIN);
    }
}
