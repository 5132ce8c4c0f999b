package org.evenwash.logger.chart;

import static java.time.Duration.ofSeconds;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.evenwash.logger.chart.Gallery.number;
import static org.junit.jupiter.api.Assertions.assertTimeoutPreemptively;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Supplier;
import javax.imageio.ImageIO;
import org.hipparchus.distribution.discrete.BinomialDistribution;
import org.hipparchus.distribution.discrete.PoissonDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.knowm.xchart.style.XYStyler;
import org.w3c.dom.Document;
import org.w3c.dom.Element;

class ChartsTest {
    @TempDir Path folder;

    /** A chart, its SVG, and the scale of the frame that it draws. */
    private record Measured(Document svg, Axis x, Axis y) {
        static Measured of(String name, Drawing drawing) {
            Document svg = Gallery.keep(name, drawing.svgAlone());
            XYStyler style = drawing.chart().getStyler();
            return new Measured(
                    svg,
                    Axis.of(svg, style.getXAxisMin(), style.getXAxisMax(), true),
                    Axis.of(svg, style.getYAxisMin(), style.getYAxisMax(), false));
        }

        /** Whether a filled circle stands at this place, to a pixel and a half. */
        boolean hasDot(double x, double y) {
            return Gallery.all(svg, "circle").stream()
                    .anyMatch(
                            dot ->
                                    Math.abs(number(dot, "cx") - this.x.pixel(x)) < 1.5
                                            && Math.abs(number(dot, "cy") - this.y.pixel(y)) < 1.5);
        }

        /** Whether a straight stroke joins these places, to two pixels. */
        boolean hasStroke(double x1, double y1, double x2, double y2) {
            double[] wanted = {x.pixel(x1), y.pixel(y1), x.pixel(x2), y.pixel(y2)};
            return strokes().stream()
                    .anyMatch(
                            s ->
                                    Math.abs(s[0] - wanted[0]) < 2
                                            && Math.abs(s[1] - wanted[1]) < 2
                                            && Math.abs(s[2] - wanted[2]) < 2
                                            && Math.abs(s[3] - wanted[3]) < 2);
        }

        /** Every two-ended stroke in the SVG: lines, and paths of M and L alone, end to end. */
        private List<double[]> strokes() {
            List<double[]> strokes = new ArrayList<>();
            for (Element line : Gallery.all(svg, "line")) {
                strokes.add(
                        new double[] {
                            number(line, "x1"), number(line, "y1"),
                            number(line, "x2"), number(line, "y2")
                        });
            }
            for (Element path : Gallery.all(svg, "path")) {
                String d = path.getAttribute("d");
                if (d.matches("[ML0-9eE.\\- ]+")) {
                    for (String piece : d.split("M")) {
                        List<double[]> points = points(piece);
                        for (int i = 1; i < points.size(); i++) {
                            double[] a = points.get(i - 1);
                            double[] b = points.get(i);
                            strokes.add(new double[] {a[0], a[1], b[0], b[1]});
                        }
                    }
                }
            }
            return strokes;
        }

        private static List<double[]> points(String piece) {
            List<double[]> points = new ArrayList<>();
            for (String pair : piece.split("L")) {
                String[] numbers = pair.trim().split("\\s+");
                if (numbers.length == 2) {
                    points.add(
                            new double[] {
                                Double.parseDouble(numbers[0]), Double.parseDouble(numbers[1])
                            });
                }
            }
            return points;
        }
    }

    /** From a value to the pixel where it must stand. */
    private record Axis(double pixel1, double value1, double pixel2, double value2) {
        double pixel(double value) {
            return pixel1 + (value - value1) / (value2 - value1) * (pixel2 - pixel1);
        }

        /**
         * The ends of the axis stand a little inside the frame that the SVG clips its plot to;
         * letters are outlines, so the printed numbers cannot be read back.
         */
        static Axis of(Document svg, double min, double max, boolean level) {
            Element clip = Gallery.all(svg, "clipPath").get(0);
            String[] d =
                    ((Element) clip.getElementsByTagName("path").item(0))
                            .getAttribute("d")
                            .split("[ MLZ]+");
            double x1 = Double.parseDouble(d[1]);
            double y1 = Double.parseDouble(d[2]);
            double x2 = Double.parseDouble(d[5]);
            double y2 = Double.parseDouble(d[6]);
            double inset = (1 - Style.CONTENT) / 2;
            return level
                    ? new Axis(x1 + inset * (x2 - x1), min, x2 - inset * (x2 - x1), max)
                    : new Axis(y2 - inset * (y2 - y1), min, y1 + inset * (y2 - y1), max);
        }
    }

    private static List<FitChart.Curve> exponential(double end_s) {
        List<FitChart.Curve> curve = new ArrayList<>();
        for (double t = 0; t <= end_s; t += end_s / 120) {
            double share = 1 - Math.exp(-t / 20);
            curve.add(new FitChart.Curve(t, share, 1 - Math.exp(-t / 26), 1 - Math.exp(-t / 15)));
        }
        return curve;
    }

    @Test
    void fitShowsWashesBandAndTargetTime() {
        List<FitChart.Wash> washes =
                List.of(
                        new FitChart.Wash(10, 0.38),
                        new FitChart.Wash(20, 0.66),
                        new FitChart.Wash(40, 0.85),
                        new FitChart.Wash(60, 0.96),
                        new FitChart.Wash(120, 1.0));
        Drawing drawing =
                FitChart.draw(
                        "Agitation time",
                        washes,
                        exponential(120),
                        Optional.of(new FitChart.Target(0.95, 59.9, 45, 78)));
        Measured chart = Measured.of("chart-fit", drawing);
        for (FitChart.Wash wash : washes) {
            assertThat(chart.hasDot(wash.agitation_s(), 100 * wash.share())).isTrue();
        }
        assertThat(chart.hasStroke(45, 95, 78, 95)).isTrue();
        assertThat(chart.hasStroke(59.9, 0, 59.9, 95)).isTrue();
        assertThat(drawing.chart().getSeries("time to 95 % with 95 % interval")).isNotNull();
        assertThat(drawing.description())
                .isEqualTo(
                        "5 washes and the fitted curve with its 95 % band. 95 % are off after 60 s,"
                                + " 95 % interval 45 to 78 s.");
        FitChart.Target open = new FitChart.Target(0.95, 100, 80, Double.POSITIVE_INFINITY);
        Drawing unlimited = FitChart.draw("Open", washes, exponential(120), Optional.of(open));
        Measured.of("chart-fit-open", unlimited);
        assertThat(unlimited.description()).endsWith("80 s upwards without limit.");
    }

    @Test
    void funnelHoldsOperatorsBetweenLimits() {
        double p = 0.9;
        List<FunnelChart.Limits> limits = new ArrayList<>();
        for (int n = 10; n <= 200; n += 5) {
            BinomialDistribution mites = new BinomialDistribution(n, p);
            limits.add(
                    new FunnelChart.Limits(
                            n,
                            mites.inverseCumulativeProbability(0.025) / (double) n,
                            mites.inverseCumulativeProbability(0.975) / (double) n,
                            mites.inverseCumulativeProbability(0.001) / (double) n,
                            mites.inverseCumulativeProbability(0.999) / (double) n));
        }
        List<FunnelChart.Operator> operators =
                List.of(
                        new FunnelChart.Operator("operator A", 150, 0.92),
                        new FunnelChart.Operator("operator B", 60, 0.75),
                        new FunnelChart.Operator("operator C", 198, 0.89),
                        new FunnelChart.Operator("operator D", 12, 1));
        Drawing drawing = FunnelChart.draw("Operators", operators, "operators", p, limits);
        Measured chart = Measured.of("chart-funnel", drawing);
        for (FunnelChart.Operator operator : operators) {
            assertThat(chart.hasDot(operator.mites(), 100 * operator.share())).isTrue();
        }
        assertThat(chart.hasStroke(0, 90, 200, 90)).isTrue();
        assertThat(drawing.description()).startsWith("All operators 90 %. operator A 92 % of 150");
    }

    @Test
    void trendOfAnyLength_namesDaysOnItsAxis() {
        LocalDate first = LocalDate.of(2031, 3, 1);
        for (int length_days = 1; length_days <= 800; length_days += 7) {
            TrendChart.Wash last =
                    new TrendChart.Wash(first.plusDays(length_days), 2.67, 1.15, 5.26);
            Drawing drawing =
                    TrendChart.draw(
                            new TrendChart.Trend(
                                    "trend",
                                    List.of(new TrendChart.Wash(first, 0.67, 0.08, 2.41), last),
                                    List.of(),
                                    Optional.empty(),
                                    Optional.empty(),
                                    List.of()));
            Set<String> named = new HashSet<>();
            var names = drawing.chart().getStyler().getXAxisTickLabelsFormattingFunction();
            drawing.chart()
                    .getStyler()
                    .setXAxisTickLabelsFormattingFunction(
                            day -> {
                                String name = names.apply(day);
                                named.add(name);
                                return name;
                            });

            drawing.svgAlone();

            named.remove("");
            assertThat(named).as("over %d days", length_days).hasSizeGreaterThan(2);
        }
    }

    @Test
    void trendShowsThresholdCrossingAndTreatment() {
        LocalDate start = LocalDate.of(2024, 4, 1);
        List<TrendChart.Wash> washes = new ArrayList<>();
        double[] rates = {0.67, 1.0, 1.67, 2.33, 4.0, 0.33};
        double[] lower = {0.08, 0.2, 0.54, 0.94, 2.07, 0.008};
        double[] upper = {2.41, 2.92, 3.89, 4.81, 6.99, 1.86};
        for (int i = 0; i < rates.length; i++) {
            washes.add(new TrendChart.Wash(start.plusDays(21L * i), rates[i], lower[i], upper[i]));
        }
        List<TrendChart.Fitted> line = new ArrayList<>();
        for (int day = 0; day <= 90; day += 5) {
            double rate = 0.62 * Math.exp(day * 0.021);
            line.add(
                    new TrendChart.Fitted(
                            start.plusDays(day), rate, rate * 0.6, rate * (1.3 + day / 300.0)));
        }
        Drawing drawing =
                TrendChart.draw(
                        new TrendChart.Trend(
                                "Colony over the season",
                                washes,
                                List.of(line),
                                Optional.of(new TrendChart.Threshold(3, "own")),
                                Optional.of(
                                        new TrendChart.Crossing(
                                                start.plusDays(75),
                                                start.plusDays(63),
                                                start.plusDays(96))),
                                List.of(
                                        new TrendChart.Mark(start.plusDays(92), "treatment"),
                                        new TrendChart.Mark(start.plusDays(98), "requeened"))));
        Measured chart = Measured.of("chart-trend", drawing);
        for (int i = 0; i < rates.length; i++) {
            double day = start.plusDays(21L * i).toEpochDay();
            assertThat(chart.hasDot(day, rates[i])).isTrue();
            assertThat(chart.hasStroke(day, lower[i], day, upper[i])).isTrue();
        }
        double first = start.plusDays(63).toEpochDay();
        assertThat(chart.hasStroke(first, 3, first + 33, 3)).isTrue();
        double treated = start.plusDays(92).toEpochDay();
        assertThat(
                        chart.strokes().stream()
                                .anyMatch(
                                        s ->
                                                Math.abs(s[0] - chart.x().pixel(treated)) < 2
                                                        && s[0] == s[2]
                                                        && Math.abs(s[1] - s[3]) > 200))
                .isTrue();
        assertThat(drawing.description())
                .contains("1 Apr 2024: 0.67 per 100.")
                .contains("treatment on 2 Jul 2024.")
                .contains(
                        "Meets the threshold on 15 Jun 2024, 95 % interval 3 Jun 2024 to 6 Jul"
                                + " 2024.");
    }

    /** Published with the method: 300 bees, threshold 3: true 3 reads below with .456, 6 with .007. */
    @Test
    void characteristicFallsThroughItsPublishedPoints() {
        List<CharacteristicChart.Curve> curves = new ArrayList<>();
        for (int bees : new int[] {300, 900}) {
            List<CharacteristicChart.Step> steps = new ArrayList<>();
            for (double rate = 0.25; rate <= 8; rate += 0.25) {
                double chance =
                        new PoissonDistribution(rate * bees / 100)
                                .cumulativeProbability(bees * 3 / 100 - 1);
                steps.add(new CharacteristicChart.Step(rate, chance));
            }
            curves.add(new CharacteristicChart.Curve(bees + " bees", steps));
        }
        assertThat(curves.get(0).steps().get(11).chance()).isCloseTo(0.456, within(0.0005));
        assertThat(curves.get(0).steps().get(23).chance()).isCloseTo(0.007, within(0.0005));
        Drawing drawing = CharacteristicChart.draw("One wash against threshold 3", curves, 3);
        Measured chart = Measured.of("chart-characteristic", drawing);
        assertThat(chart.hasStroke(3, 0, 3, 100)).isTrue();
        assertThat(chart.hasStroke(2.75, 100 * curves.get(0).steps().get(10).chance(), 3, 45.6))
                .isTrue();
        assertThat(drawing.description()).contains("300 bees: 46 % at the threshold.");
    }

    /** NIST/SEMATECH e-Handbook 6.3.2.2: mean 50.81, limits 45.8159 and 55.8041. */
    @Test
    void individualsShowTheHandbookLimits() {
        List<Double> values = List.of(49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1);
        Drawing drawing =
                IndividualsChart.draw(
                        new IndividualsChart.Individuals(
                                "Flow rate",
                                "flow",
                                values,
                                50.81,
                                45.8159,
                                55.8041,
                                Set.of(),
                                true));
        Measured chart = Measured.of("chart-individuals", drawing);
        for (int i = 0; i < values.size(); i++) {
            assertThat(chart.hasDot(i + 1, values.get(i))).isTrue();
        }
        for (double level : new double[] {50.81, 45.8159, 55.8041}) {
            assertThat(chart.hasStroke(0.5, level, 10.5, level)).isTrue();
        }
        assertThat(drawing.description())
                .isEqualTo(
                        "10 values, mean 50.81, provisional limits 45.8159 to 55.8041, no signal.");
        List<Double> wild = new ArrayList<>(values);
        wild.add(58.0);
        Drawing signal =
                IndividualsChart.draw(
                        new IndividualsChart.Individuals(
                                "With a signal",
                                "flow",
                                wild,
                                50.81,
                                45.8159,
                                55.8041,
                                Set.of(10),
                                false));
        Measured.of("chart-individuals-signal", signal);
        assertThat(signal.description()).endsWith("signals at [11].");
    }

    /** One value, values all alike, nothing but zeros, a threshold off the axis: all must return. */
    @Test
    void thinAndStrangeDataStillDraw() {
        LocalDate day = LocalDate.of(2024, 6, 1);
        List<Supplier<Drawing>> strange =
                List.of(
                        () ->
                                IndividualsChart.draw(
                                        new IndividualsChart.Individuals(
                                                "one",
                                                "x",
                                                List.of(5.0),
                                                5,
                                                5,
                                                5,
                                                Set.of(0),
                                                true)),
                        () ->
                                IndividualsChart.draw(
                                        new IndividualsChart.Individuals(
                                                "zeros",
                                                "x",
                                                List.of(0.0, 0.0, 0.0),
                                                0,
                                                0,
                                                0,
                                                Set.of(),
                                                true)),
                        () ->
                                TrendChart.draw(
                                        new TrendChart.Trend(
                                                "zero",
                                                List.of(new TrendChart.Wash(day, 0, 0, 0)),
                                                List.of(),
                                                Optional.empty(),
                                                Optional.empty(),
                                                List.of(new TrendChart.Mark(day, "treatment")))),
                        () ->
                                FitChart.draw(
                                        "thin",
                                        List.of(new FitChart.Wash(0.5, 0)),
                                        List.of(
                                                new FitChart.Curve(0, 0, 0, 0),
                                                new FitChart.Curve(1e-3, 1e-6, 0, 1)),
                                        Optional.of(new FitChart.Target(0.95, 1e4, 1, 1e6))),
                        () ->
                                FunnelChart.draw(
                                        "all off",
                                        List.of(new FunnelChart.Operator("operator A", 1, 1)),
                                        "operators",
                                        1,
                                        List.of(
                                                new FunnelChart.Limits(1, 1, 1, 1, 1),
                                                new FunnelChart.Limits(2, 1, 1, 1, 1))),
                        () ->
                                CharacteristicChart.draw(
                                        "off the axis",
                                        List.of(
                                                new CharacteristicChart.Curve(
                                                        "c",
                                                        List.of(
                                                                new CharacteristicChart.Step(0, 1),
                                                                new CharacteristicChart.Step(
                                                                        1, 0.9)))),
                                        30));
        for (Supplier<Drawing> chart : strange) {
            String svg = assertTimeoutPreemptively(ofSeconds(20), () -> chart.get().svgInPage());
            assertThat(svg).doesNotContain("NaN").contains("</svg>");
        }
    }

    /** The PNG is the same picture at three times the size. */
    @Test
    void thePngHasItsDotsWhereTheSvgHasThem() throws Exception {
        Drawing drawing =
                FitChart.draw(
                        "Agitation time",
                        List.of(new FitChart.Wash(20, 0.3), new FitChart.Wash(90, 0.6)),
                        exponential(120),
                        Optional.empty());
        Measured chart = Measured.of("chart-fit-png", drawing);
        byte[] png = drawing.png();
        Gallery.write("chart-fit-png.png", png);
        BufferedImage image = ImageIO.read(new ByteArrayInputStream(png));
        for (double[] wash : new double[][] {{20, 30}, {90, 60}}) {
            int x = (int) Math.round(3 * chart.x().pixel(wash[0]));
            int y = (int) Math.round(3 * chart.y().pixel(wash[1]));
            assertThat(image.getRGB(x, y) & 0xFFFFFF).isEqualTo(0x17262E);
            assertThat(image.getRGB(x, y + 40) & 0xFFFFFF).isEqualTo(0xFBFAF7);
        }
    }

    @Test
    void onlyTheSharedColoursAreUsedAndTextIsReadAloud() {
        Drawing drawing =
                FitChart.draw(
                        "Agitation <time>",
                        List.of(new FitChart.Wash(10, 0.4)),
                        exponential(60),
                        Optional.empty());
        String svg = drawing.svgInPage();
        assertThat(svg).doesNotContain("rgb(").doesNotContain("<style").doesNotContain("style=");
        assertThat(svg).contains("var(--accent, #0B5F73)");
        Document read = Gallery.keep("chart-fit-page", svg);
        assertThat(Gallery.all(read, "title").get(0).getTextContent())
                .isEqualTo("Agitation <time>");
        assertThat(Gallery.all(read, "desc").get(0).getTextContent()).startsWith("1 washes");
    }

    @Test
    void filesAreWrittenByTheirEnding() throws Exception {
        Drawing drawing =
                FitChart.draw(
                        "Agitation",
                        List.of(new FitChart.Wash(10, 0.4)),
                        exponential(60),
                        Optional.empty());
        drawing.write(folder.resolve("a.svg"));
        drawing.write(folder.resolve("A.PNG"));
        assertThat(Files.readString(folder.resolve("a.svg"))).startsWith("<?xml");
        BufferedImage image =
                ImageIO.read(new ByteArrayInputStream(Files.readAllBytes(folder.resolve("A.PNG"))));
        assertThat(image.getWidth()).isEqualTo(3 * Style.WIDTH);
        assertThatThrownBy(() -> drawing.write(folder.resolve("a.gif")))
                .hasMessageContaining("ends in .svg or .png");
        assertThatThrownBy(() -> drawing.write(folder.resolve("no/such/a.svg")))
                .hasMessageContaining("cannot write the chart");
    }
}
