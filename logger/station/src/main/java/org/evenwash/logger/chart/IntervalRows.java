package org.evenwash.logger.chart;

import java.util.ArrayList;
import java.util.List;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.ResultText;
import org.evenwash.logger.chart.Shape.Anchor;

/**
 * Several results of one kind under each other on one axis: a line for each interval, a dot for each
 * estimate, names at the left, the figures at the right. A limit beyond the axis ends in an arrow; a
 * bound without an estimate has no dot.
 */
public final class IntervalRows {
    public static final int MOST_ROWS = 60;

    /**
     * @param result "not enough data" leaves its row without a line
     * @param total speaks of all the rows above it, and is set apart from them
     */
    public record Row(String name, Result result, boolean total) {
        public Row(String name, Result result) {
            this(name, result, false);
        }
    }

    private static final double WIDTH = 760;
    private static final double ROW = 24;
    private static final double TEXT = 13;
    private static final double LETTER = 6.7;
    private static final double MOST_NAME = 190;
    private static final double MARGIN = 24;

    private final List<Shape> shapes = new ArrayList<>();
    private final List<Row> rows;
    private final Quantity quantity;
    private final double left;
    private final double right;
    private final double start;
    private final double end;

    private IntervalRows(List<Row> rows, Quantity quantity, double start, double end) {
        this.rows = rows;
        this.quantity = quantity;
        double longest = rows.stream().mapToDouble(r -> r.name().length() * LETTER).max().orElse(0);
        this.left = MARGIN + Math.min(MOST_NAME, longest) + 12;
        this.right = WIDTH - MARGIN - 14 - widest(rows, quantity);
        this.start = start;
        this.end = end;
    }

    /** Infestations from 0 to the highest limit, with thresholds as upright lines. */
    public static Picture infestations(
            String title, List<Row> rows, List<IntervalBar.Tick> thresholds) {
        double most = 0.1;
        for (Row row : rows) {
            most = Math.max(most, highest(row.result()));
        }
        for (IntervalBar.Tick tick : thresholds) {
            most = Math.max(most, tick.per100Bees() * 1.05);
        }
        return new IntervalRows(rows, Quantity.INFESTATION, 0, most).picture(title, thresholds);
    }

    /** Results that lie between two given ends of the axis. */
    public static Picture between(
            String title, List<Row> rows, Quantity quantity, double start, double end) {
        return new IntervalRows(rows, quantity, start, end).picture(title, List.of());
    }

    private static double widest(List<Row> rows, Quantity quantity) {
        return rows.stream()
                .mapToDouble(row -> figures(row.result(), quantity).length() * LETTER)
                .max()
                .orElse(0);
    }

    private static double highest(Result result) {
        if (result instanceof Result.Estimate e) {
            return Double.isFinite(e.upper()) ? e.upper() : 1.3 * e.value();
        }
        return result instanceof Result.Bound b ? b.limit() : 0;
    }

    private Picture picture(String title, List<IntervalBar.Tick> thresholds) {
        if (rows.isEmpty() || rows.size() > MOST_ROWS) {
            throw new IllegalArgumentException("1 to " + MOST_ROWS + " rows, not " + rows.size());
        }
        shapes.add(new Shape.Label("title", MARGIN, 28, title, Anchor.START, 16, Ink.INK));
        double top = thresholds.isEmpty() ? 44 : 64;
        double bottom = top + rows.size() * ROW + 4;
        axis(bottom);
        for (IntervalBar.Tick tick : thresholds) {
            double x = x(tick.per100Bees());
            shapes.add(new Shape.Line("threshold", x, top - 4, x, bottom, Ink.INK, 1.5, true));
            String name = tick.name() + " " + Scale.text(tick.per100Bees());
            shapes.add(
                    new Shape.Label(
                            "threshold-name", x, top - 9, name, Anchor.MIDDLE, TEXT, Ink.INK));
        }
        StringBuilder words = new StringBuilder();
        for (int i = 0; i < rows.size(); i++) {
            row(rows.get(i), top + (i + 0.5) * ROW);
            words.append(rows.get(i).name())
                    .append(": ")
                    .append(ResultText.of(rows.get(i).result(), quantity))
                    .append(". ");
        }
        return new Picture(WIDTH, bottom + 50, title, words.toString().strip(), shapes);
    }

    private void axis(double y) {
        shapes.add(new Shape.Line("axis", left, y, right, y, Ink.MUTED, 1, false));
        Scale steps = Scale.over(end - start, 6, left, right);
        double first = Math.ceil(start / steps.step() - 1e-9) * steps.step();
        for (int i = 0; first + i * steps.step() <= end * (1 + 1e-9) + 1e-12; i++) {
            double value = first + i * steps.step();
            shapes.add(
                    new Shape.Line("axis-tick", x(value), y, x(value), y + 4, Ink.MUTED, 1, false));
            shapes.add(
                    new Shape.Label(
                            "axis-value",
                            x(value),
                            y + 18,
                            Scale.text(value),
                            Anchor.MIDDLE,
                            TEXT,
                            Ink.MUTED));
        }
        shapes.add(
                new Shape.Label(
                        "axis-title",
                        left,
                        y + 38,
                        quantity.unit(),
                        Anchor.START,
                        TEXT,
                        Ink.MUTED));
    }

    private void row(Row row, double y) {
        double baseline = y + TEXT * 0.35;
        if (row.total()) {
            double above = y - ROW / 2;
            shapes.add(
                    new Shape.Line(
                            "total", MARGIN, above, WIDTH - MARGIN, above, Ink.MUTED, 0.75, false));
        }
        shapes.add(
                new Shape.Label(
                        "name",
                        left - 12,
                        baseline,
                        shortened(row.name()),
                        Anchor.END,
                        TEXT,
                        Ink.INK));
        shapes.add(
                new Shape.Label(
                        "figures",
                        right + 14,
                        baseline,
                        figures(row.result(), quantity),
                        Anchor.START,
                        TEXT,
                        Ink.MUTED));
        if (row.result() instanceof Result.Estimate e) {
            interval(e.lower(), e.upper(), y);
            if (e.value() >= start && e.value() <= end) {
                shapes.add(new Shape.Dot("estimate", x(e.value()), y, 5, Ink.INK, Ink.PAPER, 1.5));
            }
        } else if (row.result() instanceof Result.Bound b) {
            boolean most = b.side() == Result.Side.AT_MOST;
            interval(most ? start : b.limit(), most ? b.limit() : Double.POSITIVE_INFINITY, y);
            if (most && quantity == Quantity.INFESTATION) {
                shapes.add(new Shape.Dot("estimate-zero", x(0), y, 5, Ink.PAPER, Ink.INK, 1.5));
            }
        }
    }

    private void interval(double lower, double upper, double y) {
        double from = x(Math.max(start, Math.min(end, lower)));
        double to = x(Math.max(start, Math.min(end, upper)));
        shapes.add(
                new Shape.Line(
                        "interval", from, y, Math.max(to, from + 1), y, Ink.ACCENT, 4, false));
        if (lower < start) {
            arrow(from, y, -1);
        }
        // Where an axis ends at what is possible, an open end is no unknown.
        if (upper > end && !(end == 100 && quantity.unit().equals("%"))) {
            arrow(to, y, 1);
        }
    }

    private void arrow(double x, double y, int direction) {
        shapes.add(
                new Shape.Path(
                        "interval-open",
                        List.of(
                                new Shape.Point(x, y - 6),
                                new Shape.Point(x + direction * 9, y),
                                new Shape.Point(x, y + 6)),
                        true,
                        Ink.ACCENT,
                        0));
    }

    private static String figures(Result result, Quantity quantity) {
        if (result instanceof Result.NotEnoughData) {
            return "not enough data";
        }
        String text = ResultText.of(result, quantity).replace("95 %: ", "");
        return quantity.unit().isEmpty() ? text : text.replace(" " + quantity.unit(), "");
    }

    private static String shortened(String name) {
        int letters = (int) (MOST_NAME / LETTER);
        return name.length() <= letters ? name : name.substring(0, letters - 1) + "…";
    }

    private double x(double value) {
        return left + (right - left) * (value - start) / (end - start);
    }
}
