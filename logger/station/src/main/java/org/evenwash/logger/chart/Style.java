package org.evenwash.logger.chart;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Font;
import java.awt.FontFormatException;
import java.io.IOException;
import java.io.InputStream;
import java.util.Locale;
import org.knowm.xchart.AnnotationLine;
import org.knowm.xchart.AnnotationText;
import org.knowm.xchart.XYChart;
import org.knowm.xchart.XYChartBuilder;
import org.knowm.xchart.XYSeries;
import org.knowm.xchart.XYSeries.XYSeriesRenderStyle;
import org.knowm.xchart.style.Styler.LegendLayout;
import org.knowm.xchart.style.Styler.LegendPosition;
import org.knowm.xchart.style.XYStyler;
import org.knowm.xchart.style.markers.Marker;
import org.knowm.xchart.style.markers.SeriesMarkers;

/** The look that all XChart charts share: paper, ink, one accent, no frame, no shading. */
final class Style {
    static final int WIDTH = 720;
    static final int HEIGHT = 440;

    /** How wide a chart is; its letters are as large on a phone as on a desk. */
    enum Width {
        DESK(WIDTH, LegendLayout.Horizontal),
        PHONE(380, LegendLayout.Vertical);

        private final int px;
        private final LegendLayout legend;

        Width(int px, LegendLayout legend) {
            this.px = px;
            this.legend = legend;
        }

        /** About how much of the x axis a text takes, as a share of its length. */
        double shareOf(String text) {
            return share(text, px);
        }
    }

    /** Share of the plot's width and height between the ends of the axes; the rest keeps 0 labelled. */
    static final double CONTENT = 0.97;

    private static final Font OWN = own("Regular");
    private static final Font OWN_BOLD = own("Bold");
    private static final double LETTER_PX = 7.6;
    private static final int BAND_ALPHA = 46;
    private static final float[] DASH = {5, 4};

    private Style() {}

    static XYChart chart(String title, String x, String y) {
        return chart(Width.DESK, title, x, y);
    }

    static XYChart chart(Width width, String title, String x, String y) {
        XYChart chart =
                new XYChartBuilder()
                        .width(width.px)
                        .height(HEIGHT)
                        .title(title)
                        .xAxisTitle(x)
                        .yAxisTitle(y)
                        .build();
        XYStyler style = chart.getStyler();
        Font text = able(OWN, x + y);
        style.setBaseFont(text);
        style.setChartTitleFont(able(OWN_BOLD, title).deriveFont(17f));
        style.setAxisTitleFont(text.deriveFont(15f));
        style.setAxisTickLabelsFont(text.deriveFont(14f));
        style.setLegendFont(text.deriveFont(14f));
        style.setAnnotationTextFont(OWN.deriveFont(14f));
        style.setChartBackgroundColor(Ink.PAPER.light());
        style.setPlotBackgroundColor(Ink.PAPER.light());
        style.setPlotBorderVisible(false);
        style.setPlotGridVerticalLinesVisible(false);
        style.setPlotGridHorizontalLinesVisible(false);
        style.setChartFontColor(Ink.INK.light());
        style.setChartTitleFontColor(Ink.INK.light());
        style.setXAxisTitleColor(Ink.INK.light());
        style.setYAxisTitleColor(Ink.INK.light());
        style.setAxisTickLabelsColor(Ink.MUTED.light());
        style.setAxisTickMarksColor(Ink.MUTED.light());
        style.setAxisTicksLineVisible(true);
        style.setLegendBackgroundColor(Ink.PAPER.light());
        style.setLegendBorderColor(Ink.PAPER.light());
        style.setLegendPosition(LegendPosition.OutsideS);
        style.setLegendLayout(width.legend);
        style.setChartTitleBoxVisible(false);
        style.setAnnotationTextFontColor(Ink.INK.light());
        style.setAnnotationLineColor(Ink.INK.light());
        style.setMarkerSize(9);
        style.setLocale(Locale.ROOT);
        style.setDecimalPattern("#.####");
        style.setPlotContentSize(CONTENT);
        style.setXAxisTickMarkSpacingHint(90);
        style.setLegendPadding(10);
        style.setLegendSeriesLineLength(28);
        style.setPlotMargin(0);
        style.setChartPadding(14);
        return chart;
    }

    private static Font own(String weight) {
        String file = "/web/fonts/AtkinsonHyperlegible-" + weight + ".ttf";
        try (InputStream letters = Style.class.getResourceAsStream(file)) {
            return Font.createFont(Font.TRUETYPE_FONT, letters).deriveFont(15f);
        } catch (IOException | FontFormatException e) {
            throw new IllegalStateException("the program's own letters cannot be read: " + file, e);
        }
    }

    /** The pages' letters, or the computer's where a name needs others, such as Greek. */
    private static Font able(Font font, String text) {
        return font.canDisplayUpTo(text) < 0
                ? font
                : new Font(Font.SANS_SERIF, font.getStyle(), font.getSize());
    }

    /** Between two lines over the same x; the line inside it names it in the legend. */
    static void band(XYChart chart, String name, double[] x, double[] lower, double[] upper) {
        int n = x.length;
        double[] around = new double[2 * n];
        double[] edge = new double[2 * n];
        for (int i = 0; i < n; i++) {
            around[i] = x[i];
            edge[i] = lower[i];
            around[2 * n - 1 - i] = x[i];
            edge[2 * n - 1 - i] = upper[i];
        }
        Color accent = Ink.ACCENT.light();
        XYSeries series = chart.addSeries(name, around, edge);
        series.setXYSeriesRenderStyle(XYSeriesRenderStyle.PolygonArea);
        series.setFillColor(
                new Color(accent.getRed(), accent.getGreen(), accent.getBlue(), BAND_ALPHA));
        series.setLineColor(new Color(accent.getRed(), accent.getGreen(), accent.getBlue(), 0));
        series.setMarker(SeriesMarkers.NONE);
        series.setShowInLegend(false);
    }

    static XYSeries line(
            XYChart chart,
            String name,
            double[] x,
            double[] y,
            Ink ink,
            float width,
            boolean dash) {
        XYSeries series = chart.addSeries(name, x, y);
        series.setXYSeriesRenderStyle(XYSeriesRenderStyle.Line);
        series.setLineColor(ink.light());
        series.setLineStyle(stroke(width, dash));
        series.setMarker(SeriesMarkers.NONE);
        return series;
    }

    static XYSeries points(
            XYChart chart, String name, double[] x, double[] y, Ink ink, Marker marker) {
        XYSeries series = chart.addSeries(name, x, y);
        series.setXYSeriesRenderStyle(XYSeriesRenderStyle.Scatter);
        series.setMarker(marker);
        series.setMarkerColor(ink.light());
        return series;
    }

    /** One upright or level stroke for each interval, as a single series with gaps. */
    static void intervals(
            XYChart chart, String name, double[] at, double[] lower, double[] upper, Ink ink) {
        int n = at.length;
        double[] x = new double[3 * n];
        double[] y = new double[3 * n];
        for (int i = 0; i < n; i++) {
            x[3 * i] = at[i];
            y[3 * i] = lower[i];
            x[3 * i + 1] = at[i];
            y[3 * i + 1] = upper[i];
            x[3 * i + 2] = at[i];
            y[3 * i + 2] = Double.NaN;
        }
        line(chart, name, x, y, ink, 2, false).setShowInLegend(false);
    }

    /** As {@link Width#shareOf}, where a chart is painted narrowest: inside a page. */
    static double widthOf(String text) {
        return share(text, Drawing.PAGE_WIDTH);
    }

    private static double share(String text, int px) {
        return text.length() * LETTER_PX / (px - 110);
    }

    static void text(XYChart chart, String text, double x, double y) {
        XYStyler style = chart.getStyler();
        style.setAnnotationTextFont(able(style.getAnnotationTextFont(), text));
        chart.addAnnotation(new AnnotationText(text, x, y, false));
    }

    static void upright(XYChart chart, double x) {
        chart.getStyler().setAnnotationLineStroke(stroke(1.5f, true));
        chart.addAnnotation(new AnnotationLine(x, true, false));
    }

    static void axes(XYChart chart, double xMin, double xMax, double yMin, double yMax) {
        XYStyler style = chart.getStyler();
        style.setXAxisMin(xMin);
        style.setXAxisMax(xMax);
        style.setYAxisMin(yMin);
        style.setYAxisMax(yMax);
    }

    private static BasicStroke stroke(float width, boolean dash) {
        return dash
                ? new BasicStroke(width, BasicStroke.CAP_BUTT, BasicStroke.JOIN_MITER, 10, DASH, 0)
                : new BasicStroke(width, BasicStroke.CAP_BUTT, BasicStroke.JOIN_ROUND);
    }
}
