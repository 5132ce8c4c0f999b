package org.evenwash.logger.chart;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result.Bound;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.Result.Side;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Document;

/** Rows of intervals, bee-count calibration, flash points, and a trend whose limit is far away. */
class MoreChartsTest {
    private static final List<IntervalRows.Row> WASHES =
            List.of(
                    new IntervalRows.Row("Sorrel", new Estimate(2, 1, 4)),
                    new IntervalRows.Row("Teasel", new Bound(Side.AT_MOST, 1.23)),
                    new IntervalRows.Row("Borage", new NotEnoughData("bees")),
                    new IntervalRows.Row("all", new Estimate(1.5, 0.5, 3), true));

    @Test
    void rows_showEachIntervalToScale_andWhatWasNotFound() {
        Picture picture =
                IntervalRows.infestations(
                        "Washes", WASHES, List.of(new IntervalBar.Tick(3, "own")));
        Document svg = Gallery.keep("rows", PictureSvg.alone(picture));

        assertThat(Gallery.parts(svg, "interval")).hasSize(3);
        assertThat(Gallery.parts(svg, "estimate")).hasSize(2);
        assertThat(Gallery.parts(svg, "estimate-zero")).hasSize(1);
        assertThat(Gallery.parts(svg, "total")).hasSize(1);
        var interval = Gallery.parts(svg, "interval").get(0);
        var dot = Gallery.parts(svg, "estimate").get(0);
        double left = Gallery.number(interval, "x1");
        double right = Gallery.number(interval, "x2");
        // 2 lies a third of the way from 1 to 4.
        assertThat(Gallery.number(dot, "cx")).isEqualTo(left + (right - left) / 3, within(0.1));
        assertThat(picture.description())
                .contains("Sorrel: 2.00 mites per 100 bees", "Teasel: 0, up to 1.23")
                .contains("Borage: not enough data");
    }

    @Test
    void limitBeyondTheAxis_endsInAnArrow_butNotAtAHundredPerCent() {
        Picture picture =
                IntervalRows.between(
                        "Efficacy",
                        List.of(
                                new IntervalRows.Row("worse", new Estimate(-20, -300, 40)),
                                new IntervalRows.Row("none left", new Bound(Side.AT_LEAST, 82))),
                        Quantity.EFFICACY,
                        -100,
                        100);

        assertThat(
                        Gallery.parts(
                                Gallery.keep("efficacy", PictureSvg.alone(picture)),
                                "interval-open"))
                .hasSize(1);
    }

    @Test
    void tooManyRows_areRefused() {
        List<IntervalRows.Row> many =
                IntStream.rangeClosed(0, IntervalRows.MOST_ROWS)
                        .mapToObj(i -> new IntervalRows.Row("" + i, new Estimate(1, 0, 2)))
                        .toList();
        assertThatThrownBy(() -> IntervalRows.infestations("Washes", many, List.of()))
                .isInstanceOf(IllegalArgumentException.class);
    }

    @Test
    void calibration_tellsTheNewSampleInWords() {
        Estimate bees = new Estimate(309.03, 293.11, 324.95);
        Drawing mass =
                CalibrationChart.mass(
                        "Bees by mass",
                        List.of(
                                new CalibrationChart.Sample(30, 255),
                                new CalibrationChart.Sample(38, 325)),
                        DoubleStream.of(Scale.steps(1, 44, 30))
                                .mapToObj(
                                        g ->
                                                new CalibrationChart.Band(
                                                        g, 8.5 * g, 8.1 * g, 8.9 * g))
                                .toList(),
                        36.5,
                        bees);
        Drawing line = CalibrationChart.fillLine("Fill line", List.of(302.0, 291.0, 315.0), bees);
        Gallery.write("calibration-mass.png", mass.png());
        Gallery.write("calibration-fill-line.png", line.png());

        assertThat(mass.description())
                .isEqualTo("2 counted samples. A new sample holds 309 bees (95 %: 293–325).");
        assertThat(line.description()).startsWith("3 counted samples.");
    }

    @Test
    void flashPoint_leavesOutWhatHasNone() {
        List<FlashPointChart.Point> curve =
                List.of(
                        new FlashPointChart.Point(10, 49, 46),
                        new FlashPointChart.Point(100, 12.8, 9.8));
        Drawing drawing =
                FlashPointChart.draw(
                        "Flash point",
                        curve,
                        List.of(
                                new FlashPointChart.Mark("50 %vol", 50, 20.9),
                                new FlashPointChart.Mark("1 %vol", 1, Double.NaN)),
                        Optional.of(24.0));
        Gallery.write("flash-point.png", drawing.png());

        assertThat(drawing.description())
                .contains("50 %vol: 50 %vol, cautious flash point 20.0 °C.")
                .contains("Expected temperature 24.0 °C.")
                .doesNotContain("1 %vol:");
    }

    @Test
    void limitFarAhead_keepsItsDateInWords_andDoesNotStretchTheAxis() {
        LocalDate may = LocalDate.of(2031, 5, 1);
        Drawing drawing =
                TrendChart.draw(
                        new TrendChart.Trend(
                                "Trend",
                                List.of(
                                        new TrendChart.Wash(may, 1, 0.3, 2.6),
                                        new TrendChart.Wash(may.plusDays(28), 2, 0.8, 4.1)),
                                List.of(),
                                Optional.of(new TrendChart.Threshold(3, "own")),
                                Optional.of(
                                        new TrendChart.Crossing(
                                                may.plusDays(40),
                                                may.plusDays(20),
                                                may.plusYears(9))),
                                List.of()));

        assertThat(drawing.chart().getStyler().getXAxisMax())
                .isLessThan((double) may.plusDays(80).toEpochDay());
        assertThat(drawing.description()).contains("1 May");
    }
}
