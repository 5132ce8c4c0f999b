package org.evenwash.logger.chart;

import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.image.BufferedImage;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.parsers.ParserConfigurationException;
import org.apache.batik.svggen.SVGGeneratorContext;
import org.apache.batik.svggen.SVGGraphics2D;
import org.apache.batik.svggen.SVGGraphics2DIOException;
import org.knowm.xchart.XYChart;
import org.knowm.xchart.style.Styler.LegendLayout;
import org.w3c.dom.Document;

/**
 * A chart of XChart's, as SVG or PNG. XChart's own way to SVG needs an LGPL library, so it paints into
 * Batik's SVG writer (Apache licence), and the colours it wrote become the page's custom properties.
 */
public final class Drawing {
    /** CSS pixels, as a page shows it. */
    static final int PAGE_WIDTH = 480;

    private static final int PAGE_HEIGHT = 420;

    private final XYChart chart;
    private final String description;

    Drawing(XYChart chart, String description) {
        this.chart = chart;
        this.description = description;
    }

    XYChart chart() {
        return chart;
    }

    public String title() {
        return chart.getTitle();
    }

    /** The whole content in words, for screen readers. */
    public String description() {
        return description;
    }

    /** CSS pixels. */
    public int width() {
        return chart.getWidth();
    }

    /** CSS pixels. */
    public int height() {
        return chart.getHeight();
    }

    /** Onto any surface whose unit is the CSS pixel. */
    public void paint(Graphics2D graphics) {
        graphics.setRenderingHint(
                RenderingHints.KEY_FRACTIONALMETRICS, RenderingHints.VALUE_FRACTIONALMETRICS_ON);
        chart.paint(graphics, chart.getWidth(), chart.getHeight());
    }

    /**
     * To stand inside a page; see {@link PictureSvg#inPage}. Painted narrow, since a page scales it to
     * its column: on a phone the letters of a wide one could not be read.
     */
    public String svgInPage() {
        LegendLayout wide = chart.getStyler().getLegendLayout();
        chart.getStyler().setLegendLayout(LegendLayout.Vertical);
        try {
            return svg("", PAGE_WIDTH, PAGE_HEIGHT);
        } finally {
            chart.getStyler().setLegendLayout(wide);
        }
    }

    /** A file of its own; see {@link PictureSvg#alone}. */
    public String svgAlone() {
        return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                + svg(
                        "<style>" + Ink.darkStyle() + "</style>\n",
                        chart.getWidth(),
                        chart.getHeight());
    }

    public byte[] png() {
        int scale = PicturePng.SCALE;
        BufferedImage image =
                new BufferedImage(
                        chart.getWidth() * scale,
                        chart.getHeight() * scale,
                        BufferedImage.TYPE_INT_RGB);
        Graphics2D graphics = image.createGraphics();
        graphics.scale(scale, scale);
        paint(graphics);
        graphics.dispose();
        return PicturePng.encoded(image);
    }

    /**
     * Onto disk, as the name's ending says.
     *
     * @throws IllegalArgumentException if the name ends neither in .svg nor in .png
     * @throws UncheckedIOException naming the file if it cannot be written
     */
    public void write(Path file) {
        write(file, this::svgAlone, this::png);
    }

    /** As {@link #write(Path)}, for pictures. */
    public static void write(Picture picture, Path file) {
        write(file, () -> PictureSvg.alone(picture), () -> PicturePng.png(picture));
    }

    private static void write(
            Path file,
            java.util.function.Supplier<String> svg,
            java.util.function.Supplier<byte[]> png) {
        String name = String.valueOf(file.getFileName()).toLowerCase(Locale.ROOT);
        try {
            if (name.endsWith(".svg")) {
                Files.writeString(file, svg.get());
            } else if (name.endsWith(".png")) {
                Files.write(file, png.get());
            } else {
                throw new IllegalArgumentException(
                        "a chart file ends in .svg or .png, not \"" + file + "\"");
            }
        } catch (IOException broken) {
            throw new UncheckedIOException("cannot write the chart " + file, broken);
        }
    }

    private String svg(String before, int width, int height) {
        String painted = painted(width, height);
        // What Batik wrote about itself gives way to a root of our own.
        String body =
                painted.substring(
                        painted.indexOf('>', painted.indexOf("<svg")) + 1,
                        painted.lastIndexOf("</svg"));
        return "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\""
                + " viewBox=\"0 0 "
                + width
                + " "
                + height
                + "\" width=\""
                + width
                + "\" height=\""
                + height
                + "\" class=\"picture\" role=\"img\" fill=\"none\">\n<title>"
                + PictureSvg.escape(title())
                + "</title>\n<desc>"
                + PictureSvg.escape(description)
                + "</desc>\n"
                + before
                + ownIds(coloured(body))
                + "</svg>\n";
    }

    private String painted(int width, int height) {
        try {
            Document document =
                    DocumentBuilderFactory.newInstance()
                            .newDocumentBuilder()
                            .getDOMImplementation()
                            .createDocument("http://www.w3.org/2000/svg", "svg", null);
            SVGGeneratorContext context = SVGGeneratorContext.createDefault(document);
            // A hundredth of a pixel: letters come as outlines, and every digit of them counts.
            context.setPrecision(2);
            context.setComment("");
            SVGGraphics2D graphics = new SVGGraphics2D(context, false);
            chart.paint(graphics, width, height);
            StringWriter text = new StringWriter();
            graphics.stream(text, false);
            graphics.dispose();
            return text.toString();
        } catch (ParserConfigurationException | SVGGraphics2DIOException broken) {
            throw new IllegalStateException("writing a chart as SVG", broken);
        }
    }

    /** Several charts on one page must not use each other's clip paths. */
    private static String ownIds(String svg) {
        String own = "c" + Integer.toHexString(svg.hashCode()) + "-";
        return svg.replaceAll("\\bid=\"", "id=\"" + own).replace("url(#", "url(#" + own);
    }

    private static String coloured(String svg) {
        String coloured =
                svg.replaceAll("font-family=\"[^\"]*\"", "font-family=\"" + PictureSvg.FONT + "\"");
        for (Ink ink : Ink.values()) {
            String rgb =
                    String.format(
                            "rgb(%d,%d,%d)",
                            ink.light().getRed(), ink.light().getGreen(), ink.light().getBlue());
            coloured = coloured.replace('"' + rgb + '"', '"' + ink.css() + '"');
        }
        return coloured;
    }
}
