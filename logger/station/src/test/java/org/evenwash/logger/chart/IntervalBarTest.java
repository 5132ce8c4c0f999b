package org.evenwash.logger.chart;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.evenwash.logger.chart.Gallery.number;
import static org.evenwash.logger.chart.Gallery.part;
import static org.evenwash.logger.chart.Gallery.parts;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.util.List;
import java.util.OptionalDouble;
import javax.imageio.ImageIO;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.Bound;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.Side;
import org.evenwash.logger.chart.IntervalBar.Size;
import org.evenwash.logger.chart.IntervalBar.Tick;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Document;
import org.w3c.dom.Element;

class IntervalBarTest {
    /** 13 mites in 303 bees: 4.29 (2.28 to 7.34) per 100 (COLOSS BEEBOOK example, Garwood). */
    private static final Result BEEBOOK = new Estimate(4.2904, 2.2845, 7.3367);

    private static Picture picture(Result result, Size size, Tick... ticks) {
        return IntervalBar.draw(result, List.of(ticks), size, OptionalDouble.empty()).orElseThrow();
    }

    /** Pixel to mites per 100 bees, from nothing but the drawn axis labels. */
    private static double valueAt(Document svg, double x) {
        List<Element> values = parts(svg, "axis-value");
        Element first = values.get(0);
        Element last = values.get(values.size() - 1);
        assertThat(first.getTextContent()).isEqualTo("0");
        double share = (x - number(first, "x")) / (number(last, "x") - number(first, "x"));
        return share * Double.parseDouble(last.getTextContent());
    }

    @Test
    void barDotAndThresholdsStandAtTheirValues() {
        for (Size size : Size.values()) {
            Picture picture =
                    picture(BEEBOOK, size, new Tick(3, "guide"), new Tick(2, "own, spring"));
            Document svg = Gallery.keep("interval-" + size, PictureSvg.alone(picture));
            Element bar = part(svg, "bar");
            // A pixel of the small picture is 0.05 mites per 100 bees; two decimals are written.
            assertThat(valueAt(svg, number(bar, "x"))).isCloseTo(2.2845, within(0.001));
            assertThat(valueAt(svg, number(bar, "x") + number(bar, "width")))
                    .isCloseTo(7.3367, within(0.001));
            assertThat(valueAt(svg, number(part(svg, "estimate"), "cx")))
                    .isCloseTo(4.2904, within(0.001));
            assertThat(parts(svg, "threshold"))
                    .extracting(
                            line -> Math.round(1000 * valueAt(svg, number(line, "x1"))) / 1000.0)
                    .containsExactly(3.0, 2.0);
            assertThat(number(part(svg, "estimate"), "cy"))
                    .isCloseTo(number(bar, "y") + number(bar, "height") / 2, within(0.01));
            everythingIsInside(svg, picture);
        }
    }

    private static void everythingIsInside(Document svg, Picture picture) {
        for (Element text : Gallery.all(svg, "text")) {
            double half = text.getTextContent().length() * number(text, "font-size") * 0.275;
            double x = number(text, "x");
            boolean middle = text.getAttribute("text-anchor").equals("middle");
            assertThat(x - (middle ? half : 0)).as(text.getTextContent()).isGreaterThan(-1);
            assertThat(x + (middle ? half : 0))
                    .as(text.getTextContent())
                    .isLessThan(picture.width() + 1);
            assertThat(number(text, "y")).isBetween(8.0, picture.height());
        }
    }

    @Test
    void zeroMitesAreAHollowDotAndABarToTheBound() {
        Picture picture =
                picture(new Bound(Side.AT_MOST, 1.2296), Size.LARGE, new Tick(3, "guide"));
        Document svg = Gallery.keep("interval-zero", PictureSvg.alone(picture));
        Element bar = part(svg, "bar");
        assertThat(valueAt(svg, number(bar, "x"))).isZero();
        assertThat(valueAt(svg, number(bar, "x") + number(bar, "width")))
                .isCloseTo(1.2296, within(0.001));
        Element dot = part(svg, "estimate-zero");
        assertThat(valueAt(svg, number(dot, "cx"))).isZero();
        assertThat(dot.getAttribute("fill")).isEqualTo("var(--paper, #FBFAF7)");
        assertThat(picture.title()).isEqualTo("0 mites: at most 1.23 per 100 bees.");
    }

    @Test
    void anOpenEndIsAnArrowToTheEdge() {
        Picture picture = picture(new Estimate(3, 1.5, Double.POSITIVE_INFINITY), Size.LARGE);
        Document svg = Gallery.keep("interval-open", PictureSvg.alone(picture));
        assertThat(parts(svg, "bar-open")).hasSize(1);
        assertThat(picture.title()).endsWith("95 % interval 1.50 upwards without limit.");
        Picture least = picture(new Bound(Side.AT_LEAST, 4), Size.SMALL);
        Document leastSvg = Gallery.keep("interval-least", PictureSvg.alone(least));
        assertThat(valueAt(leastSvg, number(part(leastSvg, "bar"), "x")))
                .isCloseTo(4, within(0.01));
        assertThat(parts(leastSvg, "estimate")).isEmpty();
        assertThat(parts(leastSvg, "bar-open")).hasSize(1);
    }

    @Test
    void closeThresholdNamesGoOnRowsOfTheirOwn() {
        Picture picture =
                picture(
                        BEEBOOK,
                        Size.LARGE,
                        new Tick(3, "a guide with a long name"),
                        new Tick(3.1, "own threshold for late summer"),
                        new Tick(7.9, "far at the right hand end"),
                        new Tick(0.2, "far at the left hand end"));
        Document svg = Gallery.keep("interval-names", PictureSvg.alone(picture));
        List<Element> names = parts(svg, "threshold-name");
        assertThat(names.get(1).getTextContent()).isEqualTo("a guide with a long name 3");
        assertThat(number(names.get(1), "y") - number(names.get(2), "y")).isGreaterThan(14);
        everythingIsInside(svg, picture);
    }

    @Test
    void aListSharesItsAxis() {
        Picture few =
                IntervalBar.draw(
                                new Estimate(0.3, 0.01, 1.9),
                                List.of(),
                                Size.SMALL,
                                OptionalDouble.of(10))
                        .orElseThrow();
        Document svg = Gallery.keep("interval-shared", PictureSvg.alone(few));
        assertThat(valueAt(svg, 1e9)).isGreaterThan(10);
        assertThat(valueAt(svg, number(part(svg, "bar"), "x") + number(part(svg, "bar"), "width")))
                .isCloseTo(1.9, within(0.01));
    }

    @Test
    void notEnoughDataHasNoPicture() {
        assertThat(
                        IntervalBar.draw(
                                new Result.NotEnoughData("a count"),
                                List.of(),
                                Size.LARGE,
                                OptionalDouble.empty()))
                .isEmpty();
    }

    @Test
    void readAloudItSaysTheSame() {
        Picture picture = picture(BEEBOOK, Size.LARGE, new Tick(3, "guide <3>"));
        Document svg = Gallery.keep("interval-words", PictureSvg.inPage(picture));
        assertThat(Gallery.all(svg, "title").get(0).getTextContent())
                .isEqualTo("4.29 mites per 100 bees, 95 % interval 2.28 to 7.34.");
        assertThat(Gallery.all(svg, "desc").get(0).getTextContent())
                .endsWith("Threshold guide <3>: 3.");
        assertThat(svg.getDocumentElement().getAttribute("role")).isEqualTo("img");
    }

    /** Inside a page nothing needs an inline style; alone it turns dark by itself. */
    @Test
    void coloursComeFromThePageOrFallBack() {
        Picture picture = picture(BEEBOOK, Size.LARGE);
        assertThat(PictureSvg.inPage(picture))
                .doesNotContain("<style")
                .doesNotContain("style=")
                .contains("fill=\"var(--accent, #0B5F73)\"");
        assertThat(PictureSvg.alone(picture))
                .contains("prefers-color-scheme: dark")
                .contains("--accent: #6FC3D6");
    }

    @Test
    void thePngHasTheBarWhereTheSvgHasIt() throws IOException {
        Picture picture = picture(BEEBOOK, Size.LARGE, new Tick(3, "guide"));
        byte[] png = PicturePng.png(picture);
        Gallery.write("interval.png", png);
        BufferedImage image = ImageIO.read(new ByteArrayInputStream(png));
        Document svg = Gallery.keep("interval-png", PictureSvg.alone(picture));
        Element bar = part(svg, "bar");
        int y = (int) ((number(bar, "y") + 2) * PicturePng.SCALE);
        int left = (int) Math.round(number(bar, "x") * PicturePng.SCALE);
        assertThat(image.getRGB(left + 2, y) & 0xFFFFFF).isEqualTo(0x0B5F73);
        assertThat(image.getRGB(left - 2, y) & 0xFFFFFF).isEqualTo(0xFBFAF7);
    }

    @Test
    void namesThatUsersGiveAreMadeSafe() {
        Picture picture = picture(BEEBOOK, Size.LARGE, new Tick(3, "\u0000<b>\"&".repeat(40)));
        Document svg = Gallery.keep("interval-unsafe", PictureSvg.inPage(picture));
        assertThat(part(svg, "threshold-name").getTextContent()).contains("<b>\"&").endsWith("… 3");
        everythingIsInside(svg, picture);
    }

    @Test
    void extremeResultsStillDraw() {
        for (Result result :
                List.of(
                        new Estimate(0, 0, 1e-6),
                        new Estimate(1e-7, 0, 2e-7),
                        new Estimate(250, 200, 4000),
                        new Estimate(2, 2, 2),
                        new Estimate(3, Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY))) {
            Picture picture = picture(result, Size.LARGE);
            assertThat(PictureSvg.alone(picture)).doesNotContain("NaN").doesNotContain("Infinity");
        }
    }
}
