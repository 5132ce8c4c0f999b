package org.evenwash.logger.report;

import de.rototor.pdfbox.graphics2d.PdfBoxGraphics2D;
import java.io.IOException;
import java.util.List;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.documentinterchange.logicalstructure.PDStructureElement;
import org.apache.pdfbox.pdmodel.graphics.image.JPEGFactory;
import org.apache.pdfbox.pdmodel.graphics.image.PDImageXObject;
import org.apache.pdfbox.util.Matrix;
import org.evenwash.logger.chart.Drawing;
import org.evenwash.logger.chart.Ink;
import org.evenwash.logger.chart.Picture;

/** Prints pictures, charts and photos, each with its description for who cannot see it. */
final class ImagePrinter {
    /** Points to a CSS pixel. */
    private static final double PIXEL = 0.75;

    private static final double CAPTION = 8;
    private static final double GAP = 12;

    private final PDDocument document;
    private final Leaves leaves;
    private final Typeface type;
    private final Tags tags;

    ImagePrinter(PDDocument document, Leaves leaves, Typeface type, Tags tags) {
        this.document = document;
        this.leaves = leaves;
        this.type = type;
        this.tags = tags;
    }

    private PDStructureElement figure(String description) {
        PDStructureElement figure = Tags.under(tags.document(), "Figure");
        figure.setAlternateDescription(description);
        return figure;
    }

    void art(Picture picture) throws IOException {
        double scale = Math.min(PIXEL, leaves.width() / picture.width());
        double height = picture.height() * scale;
        leaves.ensure(height);
        tags.begin(leaves.out(), leaves.page(), figure(picture.description()));
        PicturePdf.paint(leaves.out(), type, picture, Leaves.MARGIN, leaves.y(), scale);
        leaves.out().endMarkedContent();
        leaves.down(height + 6);
    }

    /** Through a graphics that writes PDF: the chart library paints the same lines as for the page. */
    void chart(Drawing drawing) throws IOException {
        double scale = Math.min(PIXEL, leaves.width() / drawing.width());
        double height = drawing.height() * scale;
        leaves.ensure(height);
        PdfBoxGraphics2D graphics =
                new PdfBoxGraphics2D(document, drawing.width(), drawing.height());
        try {
            drawing.paint(graphics);
        } finally {
            graphics.dispose();
        }
        tags.begin(leaves.out(), leaves.page(), figure(drawing.description()));
        leaves.out().saveGraphicsState();
        leaves.out()
                .transform(
                        new Matrix(
                                (float) scale,
                                0,
                                0,
                                (float) scale,
                                (float) Leaves.MARGIN,
                                (float) (leaves.y() - height)));
        leaves.out().drawForm(graphics.getXFormObject());
        leaves.out().restoreGraphicsState();
        leaves.out().endMarkedContent();
        leaves.down(height + 6);
    }

    /** Two beside each other. */
    void photos(List<Block.Photo> photos) throws IOException {
        double width = (leaves.width() - GAP) / 2;
        for (int i = 0; i < photos.size(); i += 2) {
            List<Block.Photo> row = photos.subList(i, Math.min(i + 2, photos.size()));
            double tallest = 0;
            for (Block.Photo photo : row) {
                tallest = Math.max(tallest, height(photo, width));
            }
            leaves.ensure(tallest + 2 * CAPTION);
            for (int j = 0; j < row.size(); j++) {
                photo(row.get(j), Leaves.MARGIN + j * (width + GAP), width);
            }
            leaves.down(tallest + 2 * CAPTION + 4);
        }
    }

    /** Tall ones are shown smaller, so that two rows fit on a page. */
    private double height(Block.Photo photo, double width) {
        return Math.min(leaves.height() * 0.4, width * photo.height() / photo.width());
    }

    private void photo(Block.Photo photo, double x, double width) throws IOException {
        double height = height(photo, width);
        double shown = height * photo.width() / photo.height();
        PDImageXObject image = JPEGFactory.createFromByteArray(document, photo.jpeg());
        tags.begin(leaves.out(), leaves.page(), figure(photo.caption()));
        leaves.out()
                .drawImage(
                        image,
                        (float) x,
                        (float) (leaves.y() - height),
                        (float) shown,
                        (float) height);
        leaves.line(
                type.shortened(photo.caption(), CAPTION, false, width),
                x,
                leaves.y() - height - CAPTION * 1.3,
                CAPTION,
                false,
                Ink.MUTED);
        leaves.out().endMarkedContent();
    }
}
