package org.evenwash.logger.report;

import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import javax.imageio.IIOImage;
import javax.imageio.ImageIO;
import javax.imageio.ImageReadParam;
import javax.imageio.ImageReader;
import javax.imageio.ImageWriteParam;
import javax.imageio.ImageWriter;
import javax.imageio.stream.MemoryCacheImageInputStream;
import javax.imageio.stream.MemoryCacheImageOutputStream;
import org.evenwash.logger.store.Photo;
import org.evenwash.logger.wash.PictureSize;
import org.evenwash.logger.wash.Workplace;

/**
 * The photos of a wash, made as small as they are printed. Written anew, so nothing that a camera noted
 * beside the picture, such as a place, leaves with the report.
 */
final class PhotoBlocks {
    /** At half the width of a page this is 300 dots to the inch. */
    private static final int LONGEST_SIDE = 1_000;

    private static final float QUALITY = 0.82f;

    private final Workplace place;
    private final Wording wording;

    PhotoBlocks(Workplace place, Wording wording) {
        this.place = place;
        this.wording = wording;
    }

    void addTo(List<Block> blocks, UUID washId) {
        List<Photo> photos = place.photos().ofWash(washId);
        if (photos.isEmpty()) {
            return;
        }
        blocks.add(new Block.Heading(wording.say("photo.title")));
        List<Block.Photo> shown = new ArrayList<>();
        for (Photo photo : photos) {
            String caption = wording.say("photo.added", wording.dayAndTime(photo.takenAt()));
            shrunk(place.photos().bytes(photo.id()), caption)
                    .ifPresentOrElse(
                            shown::add,
                            () ->
                                    blocks.add(
                                            new Block.Paragraph(
                                                    wording.say("report.photo.unreadable", caption),
                                                    Block.Tone.MUTED)));
        }
        if (!shown.isEmpty()) {
            blocks.add(new Block.Photos(shown));
        }
    }

    /** Empty where the file is none that Java can read, or says that it has more pixels than are taken. */
    static Optional<Block.Photo> shrunk(byte[] file, String caption) {
        try {
            BufferedImage image =
                    PictureSize.of(file).filter(PictureSize::fits).isPresent()
                            ? thinned(file)
                            : null;
            if (image == null) {
                return Optional.empty();
            }
            double scale =
                    Math.min(
                            1,
                            (double) LONGEST_SIDE / Math.max(image.getWidth(), image.getHeight()));
            int width = (int) Math.max(1, Math.round(image.getWidth() * scale));
            int height = (int) Math.max(1, Math.round(image.getHeight() * scale));
            BufferedImage small = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
            Graphics2D graphics = small.createGraphics();
            graphics.setRenderingHint(
                    RenderingHints.KEY_INTERPOLATION, RenderingHints.VALUE_INTERPOLATION_BICUBIC);
            graphics.drawImage(image, 0, 0, width, height, Color.WHITE, null);
            graphics.dispose();
            return Optional.of(new Block.Photo(jpeg(small), width, height, caption));
        } catch (IOException | RuntimeException e) {
            // Readers throw either on a picture that is broken.
            return Optional.empty();
        }
    }

    /**
     * Every so many-th pixel of every so many-th row, such that twice the wanted side is left for a smooth
     * scaling: a whole picture of 50 megapixels would be most of the logger's memory. One picture at a
     * time: of a progressive JPEG the library keeps all of it nevertheless, outside the heap (190 MB for
     * 50 megapixels, measured).
     */
    private static synchronized BufferedImage thinned(byte[] file) throws IOException {
        try (MemoryCacheImageInputStream in =
                new MemoryCacheImageInputStream(new ByteArrayInputStream(file))) {
            ImageReader reader = ImageIO.getImageReaders(in).next();
            try {
                reader.setInput(in, true, true);
                ImageReadParam how = reader.getDefaultReadParam();
                int longest = Math.max(reader.getWidth(0), reader.getHeight(0));
                int step = Math.max(1, (int) Math.ceil(longest / (2.0 * LONGEST_SIDE)));
                how.setSourceSubsampling(step, step, 0, 0);
                return reader.read(0, how);
            } finally {
                reader.dispose();
            }
        }
    }

    private static byte[] jpeg(BufferedImage image) throws IOException {
        ImageWriter writer = ImageIO.getImageWritersByFormatName("jpeg").next();
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (MemoryCacheImageOutputStream out = new MemoryCacheImageOutputStream(bytes)) {
            ImageWriteParam how = writer.getDefaultWriteParam();
            how.setCompressionMode(ImageWriteParam.MODE_EXPLICIT);
            how.setCompressionQuality(QUALITY);
            writer.setOutput(out);
            writer.write(null, new IIOImage(image, null, null), how);
        } finally {
            writer.dispose();
        }
        return bytes.toByteArray();
    }
}
