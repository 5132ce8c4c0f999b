package org.evenwash.logger.chart;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.evenwash.logger.chart.Shape.Anchor;

/**
 * A cycle as a strip: time left to right, bouts as blocks at the speed really reached over the outline
 * of what was asked, rests as gaps, interruptions as cuts with their cause. Live, it fills as the
 * bench runs.
 */
public final class CycleStrip {

    /**
     * A bout as asked.
     *
     * @param start_s where it stands in the cycle as it went: really, if it has begun, else as planned
     * @param agitation_s above 0
     * @param speed_rpm above 0
     */
    public record Asked(double start_s, double agitation_s, double speed_rpm) {}

    /** One reading of the speed. Between readings more than 2.5 s apart nothing is drawn. */
    public record Reading(double at_s, double speed_rpm) {}

    /** A bout known only by its mean, for records without a trace. */
    public record Reached(double start_s, double agitation_s, double meanSpeed_rpm) {}

    /** @param length_s 0 for one that ended the cycle */
    public record Interruption(double at_s, double length_s, String cause) {}

    /**
     * @param reached used where {@code trace} is empty
     * @param now_s where a running cycle stands; empty for a finished one
     * @param total_s length of the strip: planned or actual, whichever is longer
     */
    public record Cycle(
            String title,
            List<Asked> asked,
            List<Reading> trace,
            List<Reached> reached,
            List<Interruption> interruptions,
            OptionalDouble now_s,
            double total_s) {
        public Cycle {
            asked = List.copyOf(asked);
            trace = List.copyOf(trace);
            reached = List.copyOf(reached);
            interruptions = List.copyOf(interruptions);
            if (!(total_s > 0 && Double.isFinite(total_s))) {
                throw new IllegalArgumentException("a cycle lasts more than 0 s, not " + total_s);
            }
        }
    }

    private static final double WIDTH = 640;
    private static final double LEFT = 52;
    private static final double RIGHT = WIDTH - 22;
    private static final double HIGH = 90;
    private static final double TEXT = 13;
    private static final double CAUSE_ROW = TEXT + 4;
    private static final double LONGEST_GAP_S = 2.5;
    private static final double WIDTH_OF_A_LETTER = 0.55;
    private static final int SECONDS_PER_MINUTE = 60;

    private final Cycle cycle;
    private final double fastest_rpm;
    private final double top;
    private final double base;
    private final List<Shape> shapes = new ArrayList<>();

    private CycleStrip(Cycle cycle, List<Shape.Label> causes, int causeRows) {
        this.cycle = cycle;
        double fastest = 1;
        for (Asked bout : cycle.asked()) {
            fastest = Math.max(fastest, bout.speed_rpm());
        }
        for (Reading reading : cycle.trace()) {
            fastest = Math.max(fastest, reading.speed_rpm());
        }
        for (Reached bout : cycle.reached()) {
            fastest = Math.max(fastest, bout.meanSpeed_rpm());
        }
        this.fastest_rpm = fastest * 1.05;
        this.top = 8 + causeRows * CAUSE_ROW;
        this.base = top + HIGH;
        shapes.addAll(causes);
    }

    public static Picture draw(Cycle cycle) {
        List<Shape.Label> causes = new ArrayList<>();
        int rows = placeCauses(cycle, causes);
        return new CycleStrip(cycle, causes, rows).picture();
    }

    private Picture picture() {
        axes();
        if (cycle.trace().isEmpty()) {
            cycle.reached().forEach(this::block);
        } else {
            traceBlocks();
        }
        cycle.asked().forEach(this::outline);
        cycle.interruptions().forEach(this::cut);
        cycle.now_s().ifPresent(this::now);
        return new Picture(WIDTH, base + 2.4 * TEXT + 8, cycle.title(), words(), shapes);
    }

    private void axes() {
        shapes.add(line("axis", LEFT, base, RIGHT, base, Ink.MUTED, 1, false));
        for (double second = 0; second <= cycle.total_s() * (1 + 1e-9); second += step_s()) {
            shapes.add(
                    line("axis-tick", x(second), base, x(second), base + 4, Ink.MUTED, 1, false));
            shapes.add(
                    label(
                            "axis-value",
                            x(second),
                            base + 4 + TEXT,
                            axisClock(second),
                            Anchor.MIDDLE));
        }
        shapes.add(
                label(
                        "axis-title",
                        LEFT,
                        base + 2.4 * TEXT + 4,
                        inHours() ? "h:min" : "min:s",
                        Anchor.START));
        double asked = cycle.asked().stream().mapToDouble(Asked::speed_rpm).max().orElse(0);
        if (asked > 0) {
            shapes.add(label("speed", LEFT - 6, y(asked) + 4, Scale.text(asked), Anchor.END));
            shapes.add(label("speed-unit", LEFT - 6, y(asked) + 4 + TEXT, "rpm", Anchor.END));
            shapes.add(line("speed-tick", LEFT - 4, y(asked), LEFT, y(asked), Ink.MUTED, 1, false));
        }
    }

    /** Steps of a clock: 5, 10, 15, 30 s, 1, 2, 5, 10, 15, 30 min, 1 h and so on. */
    private double step_s() {
        double[] steps = {1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14_400};
        for (double step : steps) {
            if (cycle.total_s() / step <= 8) {
                return step;
            }
        }
        return Math.ceil(cycle.total_s() / 8 / 14_400) * 14_400;
    }

    private void block(Reached bout) {
        shapes.add(
                new Shape.Box(
                        "reached",
                        x(bout.start_s()),
                        y(bout.meanSpeed_rpm()),
                        x(bout.start_s() + bout.agitation_s()) - x(bout.start_s()),
                        base - y(bout.meanSpeed_rpm()),
                        Ink.ACCENT,
                        1));
    }

    /** One filled shape for each stretch of turning, down to the axis at both ends. */
    private void traceBlocks() {
        List<Shape.Point> stretch = new ArrayList<>();
        double before_s = Double.NEGATIVE_INFINITY;
        for (Reading reading : cycle.trace()) {
            if (!stretch.isEmpty()
                    && (reading.at_s() - before_s > LONGEST_GAP_S || reading.speed_rpm() <= 0)) {
                close(stretch, reading.speed_rpm() <= 0 ? reading.at_s() : before_s, before_s);
            }
            if (reading.speed_rpm() > 0) {
                if (stretch.isEmpty()) {
                    stretch.add(new Shape.Point(x(reading.at_s()), base));
                }
                stretch.add(new Shape.Point(x(reading.at_s()), y(reading.speed_rpm())));
            }
            before_s = reading.at_s();
        }
        if (!stretch.isEmpty()) {
            close(stretch, before_s, before_s);
        }
    }

    private void close(List<Shape.Point> stretch, double end_s, double before_s) {
        double end = end_s - before_s > LONGEST_GAP_S ? before_s : end_s;
        stretch.add(new Shape.Point(x(end), base));
        shapes.add(new Shape.Path("reached", stretch, true, Ink.ACCENT, 0));
        stretch.clear();
    }

    private void outline(Asked bout) {
        shapes.add(
                new Shape.Frame(
                        "asked",
                        x(bout.start_s()),
                        y(bout.speed_rpm()),
                        x(bout.start_s() + bout.agitation_s()) - x(bout.start_s()),
                        base - y(bout.speed_rpm()),
                        Ink.INK));
    }

    /** A paper-wide cut for its length with a heavy line at its start. */
    private void cut(Interruption interruption) {
        double at = x(interruption.at_s());
        double end = x(interruption.at_s() + interruption.length_s());
        if (end > at) {
            shapes.add(new Shape.Box("cut", at, top, end - at, base - top, Ink.ABNORMAL, 0.18));
        }
        shapes.add(line("cut-start", at, top - 4, at, base, Ink.ABNORMAL, 2.5, false));
    }

    private void now(double now_s) {
        shapes.add(line("now", x(now_s), top - 4, x(now_s), base + 4, Ink.INK, 1.5, true));
    }

    /** Causes above their cuts, each on the lowest row where it has room; gives the rows used. */
    private static int placeCauses(Cycle cycle, List<Shape.Label> placed) {
        List<Double> rowEnds = new ArrayList<>();
        List<Integer> rows = new ArrayList<>();
        List<Double> lefts = new ArrayList<>();
        for (Interruption interruption : cycle.interruptions()) {
            double width = text(interruption).length() * TEXT * WIDTH_OF_A_LETTER;
            double at = LEFT + (RIGHT - LEFT) * interruption.at_s() / cycle.total_s();
            double left = Math.max(2, Math.min(at - 2, WIDTH - width - 2));
            int row = 0;
            while (row < rowEnds.size() && rowEnds.get(row) > left - 8) {
                row++;
            }
            if (row == rowEnds.size()) {
                rowEnds.add(0.0);
            }
            rowEnds.set(row, left + width);
            rows.add(row);
            lefts.add(left);
        }
        for (int i = 0; i < rows.size(); i++) {
            placed.add(
                    new Shape.Label(
                            "cause",
                            lefts.get(i),
                            (rowEnds.size() - rows.get(i)) * CAUSE_ROW,
                            text(cycle.interruptions().get(i)),
                            Anchor.START,
                            TEXT,
                            Ink.ABNORMAL));
        }
        return rowEnds.size();
    }

    private static String text(Interruption interruption) {
        return interruption.length_s() > 0
                ? interruption.cause() + ", " + Math.round(interruption.length_s()) + " s"
                : interruption.cause();
    }

    private String words() {
        StringBuilder words = new StringBuilder();
        words.append(cycle.asked().size())
                .append(cycle.asked().size() == 1 ? " bout asked" : " bouts asked");
        for (Asked bout : cycle.asked()) {
            words.append(", ")
                    .append(Scale.text(bout.agitation_s()))
                    .append(" s at ")
                    .append(Scale.text(bout.speed_rpm()))
                    .append(" rpm from ")
                    .append(clock(bout.start_s()));
        }
        words.append('.');
        for (Interruption interruption : cycle.interruptions()) {
            words.append(" Interrupted at ")
                    .append(clock(interruption.at_s()))
                    .append(": ")
                    .append(text(interruption))
                    .append('.');
        }
        cycle.now_s().ifPresent(now -> words.append(" Now at ").append(clock(now)).append('.'));
        return words.toString();
    }

    private double x(double second) {
        return LEFT
                + (RIGHT - LEFT) * Math.max(0, Math.min(second, cycle.total_s())) / cycle.total_s();
    }

    private double y(double speed_rpm) {
        return base - HIGH * speed_rpm / fastest_rpm;
    }

    /** "1:30" is a minute and a half in short cycles, an hour and a half in those of hours. */
    private String axisClock(double second) {
        return clock(inHours() ? second / SECONDS_PER_MINUTE : second);
    }

    private boolean inHours() {
        return cycle.total_s() >= 2 * SECONDS_PER_MINUTE * SECONDS_PER_MINUTE;
    }

    private static String clock(double second) {
        long whole = Math.round(second);
        return whole / SECONDS_PER_MINUTE + ":" + String.format("%02d", whole % SECONDS_PER_MINUTE);
    }

    private static Shape.Label label(
            String part, double x, double baseline, String text, Anchor anchor) {
        return new Shape.Label(part, x, baseline, text, anchor, TEXT, Ink.MUTED);
    }

    private static Shape.Line line(
            String part,
            double x1,
            double y1,
            double x2,
            double y2,
            Ink ink,
            double width,
            boolean dashed) {
        return new Shape.Line(part, x1, y1, x2, y2, ink, width, dashed);
    }
}
