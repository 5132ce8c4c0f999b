package org.evenwash.logger.chart;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.evenwash.logger.chart.Gallery.number;
import static org.evenwash.logger.chart.Gallery.part;
import static org.evenwash.logger.chart.Gallery.parts;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.evenwash.logger.chart.CycleStrip.Asked;
import org.evenwash.logger.chart.CycleStrip.Cycle;
import org.evenwash.logger.chart.CycleStrip.Interruption;
import org.evenwash.logger.chart.CycleStrip.Reached;
import org.evenwash.logger.chart.CycleStrip.Reading;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Document;
import org.w3c.dom.Element;

class CycleStripTest {
    private static final List<Asked> THREE_BOUTS =
            List.of(new Asked(0, 30, 120), new Asked(40, 30, 120), new Asked(92, 30, 120));

    /** Ramps up over 2 s, holds a little below what was asked, ramps down. */
    private static List<Reading> trace(double until_s) {
        List<Reading> readings = new ArrayList<>();
        for (double second = 0; second <= until_s; second++) {
            double speed = 0;
            for (Asked bout : THREE_BOUTS) {
                double into = second - bout.start_s();
                double left = bout.agitation_s() - into;
                if (into >= 0 && left >= 0) {
                    speed = Math.min(114 + (second % 3), 60 * Math.min(into, left));
                }
            }
            // The lid opened 18 s into the second bout.
            readings.add(new Reading(second, second >= 58 && second < 80 ? 0 : speed));
        }
        return readings;
    }

    private static Cycle finished() {
        return new Cycle(
                "Cycle of three bouts",
                THREE_BOUTS,
                trace(122),
                List.of(),
                List.of(new Interruption(58, 22, "lid open")),
                OptionalDouble.empty(),
                122);
    }

    /** Pixel to seconds, from the drawn clock alone. */
    private static double secondAt(Document svg, double x) {
        List<Element> values = parts(svg, "axis-value");
        Element last = values.get(values.size() - 1);
        String[] clock = last.getTextContent().split(":");
        double end = 60 * Double.parseDouble(clock[0]) + Double.parseDouble(clock[1]);
        double zero = number(values.get(0), "x");
        return (x - zero) / (number(last, "x") - zero) * end;
    }

    /** Pixel to rpm, from the axis and the labelled tick. */
    private static double speedAt(Document svg, double y) {
        double base = number(part(svg, "axis"), "y1");
        double tick = number(part(svg, "speed-tick"), "y1");
        double speed = Double.parseDouble(part(svg, "speed").getTextContent());
        return (base - y) / (base - tick) * speed;
    }

    @Test
    void askedBoutsAreOutlinesAtTheirTimesAndSpeed() {
        Document svg = Gallery.keep("cycle", PictureSvg.alone(CycleStrip.draw(finished())));
        List<Element> asked = parts(svg, "asked");
        assertThat(asked).hasSize(3);
        for (int i = 0; i < 3; i++) {
            assertThat(secondAt(svg, number(asked.get(i), "x")))
                    .isCloseTo(THREE_BOUTS.get(i).start_s(), within(0.01));
            assertThat(secondAt(svg, number(asked.get(i), "x") + number(asked.get(i), "width")))
                    .isCloseTo(THREE_BOUTS.get(i).start_s() + 30, within(0.01));
            assertThat(speedAt(svg, number(asked.get(i), "y"))).isCloseTo(120, within(0.1));
            assertThat(asked.get(i).getAttribute("fill")).isEqualTo("none");
        }
    }

    @Test
    void reachedSpeedIsFilledAndRestsStayEmpty() {
        Document svg = Gallery.keep("cycle", PictureSvg.alone(CycleStrip.draw(finished())));
        List<Element> reached = parts(svg, "reached");
        assertThat(reached).hasSize(3);
        double[][] spans = {{1, 30}, {41, 58}, {93, 122}};
        for (int i = 0; i < 3; i++) {
            String[] points = reached.get(i).getAttribute("points").split(" ");
            double left = Double.parseDouble(points[0].split(",")[0]);
            double right = Double.parseDouble(points[points.length - 1].split(",")[0]);
            assertThat(secondAt(svg, left)).isCloseTo(spans[i][0], within(0.05));
            assertThat(secondAt(svg, right)).isCloseTo(spans[i][1], within(0.05));
            double highest = 0;
            for (String point : points) {
                highest = Math.max(highest, speedAt(svg, Double.parseDouble(point.split(",")[1])));
            }
            assertThat(highest).isCloseTo(116, within(0.2));
        }
    }

    @Test
    void interruptionsAreCutsWithTheirCause() {
        Document svg = Gallery.keep("cycle", PictureSvg.alone(CycleStrip.draw(finished())));
        Element cut = part(svg, "cut");
        assertThat(secondAt(svg, number(cut, "x"))).isCloseTo(58, within(0.05));
        assertThat(secondAt(svg, number(cut, "x") + number(cut, "width")))
                .isCloseTo(80, within(0.05));
        assertThat(part(svg, "cause").getTextContent()).isEqualTo("lid open, 22 s");
        assertThat(Gallery.all(svg, "desc").get(0).getTextContent())
                .contains("3 bouts asked, 30 s at 120 rpm from 0:00")
                .contains("Interrupted at 0:58: lid open, 22 s.");
    }

    @Test
    void liveItFillsAsTheBenchRuns() {
        Cycle live =
                new Cycle(
                        "Running",
                        THREE_BOUTS,
                        trace(50),
                        List.of(),
                        List.of(),
                        OptionalDouble.of(50),
                        122);
        Document svg = Gallery.keep("cycle-live", PictureSvg.inPage(CycleStrip.draw(live)));
        assertThat(parts(svg, "asked")).hasSize(3);
        assertThat(parts(svg, "reached")).hasSize(2);
        assertThat(secondAt(svg, number(part(svg, "now"), "x1"))).isCloseTo(50, within(0.05));
        String[] points = parts(svg, "reached").get(1).getAttribute("points").split(" ");
        assertThat(secondAt(svg, Double.parseDouble(points[points.length - 1].split(",")[0])))
                .isCloseTo(50, within(0.05));
        Cycle notYet =
                new Cycle(
                        "Loaded",
                        THREE_BOUTS,
                        List.of(),
                        List.of(),
                        List.of(),
                        OptionalDouble.of(0),
                        122);
        assertThat(PictureSvg.inPage(CycleStrip.draw(notYet))).doesNotContain("reached");
    }

    @Test
    void withoutATraceTheMeanSpeedStands() {
        Cycle means =
                new Cycle(
                        "By hand of a record without trace",
                        THREE_BOUTS.subList(0, 2),
                        List.of(),
                        List.of(new Reached(0, 30, 118), new Reached(40, 12, 90)),
                        List.of(
                                new Interruption(52, 0, "emergency stop"),
                                new Interruption(53, 0, "supply voltage low and then gone")),
                        OptionalDouble.empty(),
                        70);
        Document svg = Gallery.keep("cycle-means", PictureSvg.alone(CycleStrip.draw(means)));
        Element second = parts(svg, "reached").get(1);
        assertThat(speedAt(svg, number(second, "y"))).isCloseTo(90, within(0.1));
        assertThat(secondAt(svg, number(second, "x") + number(second, "width")))
                .isCloseTo(52, within(0.05));
        assertThat(parts(svg, "cut")).isEmpty();
        assertThat(parts(svg, "cut-start")).hasSize(2);
        assertThat(parts(svg, "cause"))
                .extracting(cause -> number(cause, "y"))
                .doesNotHaveDuplicates();
    }

    @Test
    void aLostTraceLeavesAGap() {
        List<Reading> holed = new ArrayList<>(trace(30));
        holed.removeIf(reading -> reading.at_s() > 10 && reading.at_s() < 15);
        Cycle cycle =
                new Cycle(
                        "Readings lost",
                        THREE_BOUTS.subList(0, 1),
                        holed,
                        List.of(),
                        List.of(),
                        OptionalDouble.empty(),
                        30);
        Document svg = Gallery.keep("cycle-holed", PictureSvg.alone(CycleStrip.draw(cycle)));
        assertThat(parts(svg, "reached")).hasSize(2);
    }

    @Test
    void longCyclesKeepTheirClockReadable() {
        Cycle day =
                new Cycle(
                        "Long",
                        List.of(new Asked(0, 50_000, 60)),
                        List.of(),
                        List.of(),
                        List.of(),
                        OptionalDouble.empty(),
                        86_400);
        Document svg = Gallery.keep("cycle-long", PictureSvg.alone(CycleStrip.draw(day)));
        assertThat(parts(svg, "axis-value")).hasSizeBetween(4, 9);
        assertThatThrownBy(
                        () ->
                                new Cycle(
                                        "",
                                        List.of(),
                                        List.of(),
                                        List.of(),
                                        List.of(),
                                        OptionalDouble.empty(),
                                        0))
                .hasMessageContaining("more than 0 s");
    }
}
