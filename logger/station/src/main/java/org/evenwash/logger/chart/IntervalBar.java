package org.evenwash.logger.chart;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenwash.analysis.Result;
import org.evenwash.logger.chart.Shape.Anchor;

/**
 * An infestation as a picture: an axis in mites per 100 bees from 0, a thick bar for the 95 %
 * interval, a dot for the estimate, the keeper's thresholds as ticks. Where no limit could be set the
 * bar ends in an arrow; zero mites are a hollow dot at 0, since 0 is not what is known.
 */
public final class IntervalBar {

    /** A threshold in mites per 100 bees, above 0, and what it is called. */
    public record Tick(double per100Bees, String name) {}

    /** Everything that differs between the picture on a wash and the one in a list. */
    public enum Size {
        LARGE(640, 22, 7, 14, 24, 34),
        SMALL(220, 10, 4, 11, 8, 14);

        private final double width;
        private final double bar;
        private final double dot;
        private final double text;
        private final double margin;
        private final double end;

        Size(double width, double bar, double dot, double text, double margin, double end) {
            this.width = width;
            this.bar = bar;
            this.dot = dot;
            this.text = text;
            this.margin = margin;
            this.end = end;
        }
    }

    private static final double WIDTH_OF_A_LETTER = 0.55;
    private static final int LONGEST_NAME = 60;

    private final Size size;
    private final Scale scale;
    private final List<Shape> shapes = new ArrayList<>();
    private double y;

    private IntervalBar(Size size, Scale scale) {
        this.size = size;
        this.scale = scale;
    }

    /**
     * @param per100Bees the infestation
     * @param thresholds may be empty
     * @param axisEnd where the axis ends at least, so that the bars of a list compare; empty to fit
     * @return empty for "not enough data": there is nothing to draw, only words to say
     */
    public static Optional<Picture> draw(
            Result per100Bees, List<Tick> thresholds, Size size, OptionalDouble axisEnd) {
        if (per100Bees instanceof Result.NotEnoughData) {
            return Optional.empty();
        }
        Extent extent = Extent.of(per100Bees);
        double largest = extent.largest();
        for (Tick tick : thresholds) {
            largest = Math.max(largest, tick.per100Bees());
        }
        // An open end needs room for its arrow beyond the last known value.
        double room = extent.openEnd() ? 1.25 : 1.04;
        Scale scale =
                Scale.over(
                        Math.max(largest * room, axisEnd.orElse(0)),
                        size == Size.LARGE ? 6 : 4,
                        size.margin,
                        size.width - size.end);
        return Optional.of(new IntervalBar(size, scale).picture(extent, thresholds));
    }

    /** The largest finite limit of a list, so that its bars compare; empty where nothing is above 0. */
    public static OptionalDouble commonEnd(List<Result> results) {
        return results.stream().mapToDouble(IntervalBar::end).filter(end -> end > 0).max();
    }

    private static double end(Result result) {
        if (result instanceof Result.Estimate estimate) {
            return Double.isFinite(estimate.upper()) ? estimate.upper() : estimate.value();
        }
        return result instanceof Result.Bound bound ? bound.limit() : 0;
    }

    /** What the result says of both ends and the middle; NaN is "nothing". */
    private record Extent(double estimate, double lower, double upper, boolean zero) {
        static Extent of(Result result) {
            if (result instanceof Result.Estimate e) {
                return new Extent(e.value(), Math.max(0, e.lower()), e.upper(), e.value() == 0);
            }
            if (result instanceof Result.Bound bound) {
                return bound.side() == Result.Side.AT_MOST
                        ? new Extent(0, 0, bound.limit(), true)
                        : new Extent(Double.NaN, bound.limit(), Double.POSITIVE_INFINITY, false);
            }
            throw new IllegalStateException("nothing to draw in " + result);
        }

        boolean openEnd() {
            return Double.isInfinite(upper);
        }

        double largest() {
            return openEnd() ? Math.max(lower, Double.isNaN(estimate) ? 0 : estimate) : upper;
        }

        String words() {
            if (zero) {
                return "0 mites: at most " + up(upper) + " per 100 bees.";
            }
            if (Double.isNaN(estimate)) {
                return "At least " + down(lower) + " per 100 bees.";
            }
            return round(estimate, RoundingMode.HALF_EVEN)
                    + " mites per 100 bees, 95 % interval "
                    + down(lower)
                    + (openEnd() ? " upwards without limit." : " to " + up(upper) + ".");
        }

        private static String up(double value) {
            return round(value, RoundingMode.CEILING);
        }

        private static String down(double value) {
            return round(value, RoundingMode.FLOOR);
        }

        private static String round(double value, RoundingMode mode) {
            // A limit of 1.23 stored as 1.2300000000000002 must not become 1.24.
            return new BigDecimal(value)
                    .setScale(10, RoundingMode.HALF_EVEN)
                    .setScale(2, mode)
                    .toPlainString();
        }
    }

    private Picture picture(Extent extent, List<Tick> thresholds) {
        double top = 4 + labels(thresholds);
        y = top + size.bar / 2 + (size == Size.LARGE ? 8 : 4);
        double axis = y + size.bar / 2 + (size == Size.LARGE ? 8 : 4);
        axis(axis);
        bar(extent);
        thresholds.forEach(tick -> tick(tick, top, axis));
        dot(extent);
        double height = axis + (size == Size.LARGE ? 2.8 : 1.3) * size.text + 2;
        StringBuilder words = new StringBuilder(extent.words());
        for (Tick tick : thresholds) {
            words.append(" Threshold ")
                    .append(tick.name())
                    .append(": ")
                    .append(Scale.text(tick.per100Bees()))
                    .append(".");
        }
        return new Picture(size.width, height, extent.words(), words.toString(), shapes);
    }

    private void axis(double axis) {
        shapes.add(line("axis", scale.left(), axis, scale.right(), axis, Ink.MUTED, 1));
        List<Double> ticks = scale.ticks();
        for (double value : ticks) {
            boolean named =
                    size == Size.LARGE || value == 0 || value == ticks.get(ticks.size() - 1);
            double x = scale.x(value);
            shapes.add(line("axis-tick", x, axis, x, axis + (named ? 4 : 2), Ink.MUTED, 1));
            if (named) {
                shapes.add(
                        label(
                                "axis-value",
                                x,
                                axis + 4 + size.text,
                                Scale.text(value),
                                Anchor.MIDDLE));
            }
        }
        if (size == Size.LARGE) {
            shapes.add(
                    label(
                            "axis-title",
                            scale.left(),
                            axis + 2.35 * size.text + 2,
                            "mites per 100 bees",
                            Anchor.START));
        }
    }

    private void bar(Extent extent) {
        double left = scale.x(extent.lower());
        double right = extent.openEnd() ? scale.right() : scale.x(extent.upper());
        // Seen even where both limits fall on one pixel.
        double width = Math.max(right - left, 1);
        double top = y - size.bar / 2;
        shapes.add(new Shape.Box("bar", left, top, width, size.bar, Ink.ACCENT, 1));
        if (extent.openEnd()) {
            double tip = right + size.bar * 0.8;
            shapes.add(
                    new Shape.Path(
                            "bar-open",
                            List.of(
                                    new Shape.Point(right, top),
                                    new Shape.Point(Math.min(tip, size.width - 1), y),
                                    new Shape.Point(right, top + size.bar)),
                            true,
                            Ink.ACCENT,
                            0));
        }
    }

    private void dot(Extent extent) {
        if (Double.isNaN(extent.estimate())) {
            return;
        }
        Ink fill = extent.zero() ? Ink.PAPER : Ink.INK;
        Ink ring = extent.zero() ? Ink.INK : Ink.PAPER;
        shapes.add(
                new Shape.Dot(
                        extent.zero() ? "estimate-zero" : "estimate",
                        scale.x(extent.estimate()),
                        y,
                        size.dot,
                        fill,
                        ring,
                        size == Size.LARGE ? 2 : 1.5));
    }

    private void tick(Tick tick, double top, double axis) {
        double x = scale.x(tick.per100Bees());
        // Paper beneath, so that the tick is seen on the bar as well as off it.
        double half = size.bar / 2;
        shapes.add(line("threshold-gap", x, y - half, x, y + half, Ink.PAPER, 5));
        shapes.add(line("threshold", x, top, x, axis, Ink.INK, 2));
    }

    /** Names above the ticks, each on the lowest row where it has room. Gives their height. */
    private double labels(List<Tick> thresholds) {
        if (size == Size.SMALL || thresholds.isEmpty()) {
            return 0;
        }
        List<Double> rowEnds = new ArrayList<>();
        List<Shape.Label> placed = new ArrayList<>();
        for (Tick tick :
                thresholds.stream()
                        .sorted((a, b) -> Double.compare(a.per100Bees(), b.per100Bees()))
                        .toList()) {
            String text = shortened(tick.name()) + " " + Scale.text(tick.per100Bees());
            double width = text.length() * size.text * WIDTH_OF_A_LETTER;
            double x = scale.x(tick.per100Bees());
            double left = Math.max(2, Math.min(x - width / 2, size.width - width - 2));
            int row = 0;
            while (row < rowEnds.size() && rowEnds.get(row) > left - 12) {
                row++;
            }
            if (row == rowEnds.size()) {
                rowEnds.add(0.0);
            }
            rowEnds.set(row, left + width);
            placed.add(label("threshold-name", left + width / 2, row, text, Anchor.MIDDLE));
        }
        double rowHeight = size.text + 4;
        double height = rowEnds.size() * rowHeight;
        for (Shape.Label label : placed) {
            shapes.add(
                    label(
                            label.part(),
                            label.x(),
                            height - label.y() * rowHeight,
                            label.text(),
                            label.anchor()));
        }
        return height + 2;
    }

    private static String shortened(String name) {
        return name.length() <= LONGEST_NAME ? name : name.substring(0, LONGEST_NAME - 1) + "…";
    }

    private Shape.Label label(String part, double x, double baseline, String text, Anchor anchor) {
        return new Shape.Label(
                part,
                x,
                baseline,
                text,
                anchor,
                size.text,
                part.equals("threshold-name") ? Ink.INK : Ink.MUTED);
    }

    private static Shape.Line line(
            String part, double x1, double y1, double x2, double y2, Ink ink, double width) {
        return new Shape.Line(part, x1, y1, x2, y2, ink, width, false);
    }
}
