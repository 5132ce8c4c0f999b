package org.evenwash.logger.wash;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.util.Iterator;
import java.util.Optional;
import javax.imageio.ImageIO;
import javax.imageio.ImageReader;
import javax.imageio.stream.MemoryCacheImageInputStream;

/**
 * How many pixels a picture says it has, read from its head alone. A file of a few kilobytes can claim
 * so many that unpacking it would take more memory than there is.
 */
public record PictureSize(int width, int height) {
    /** More than phones take unless asked to. */
    public static final int MOST_MEGAPIXELS = 50;

    /** A single row has to fit into memory too; JPEG itself knows no longer side. */
    public static final int LONGEST_SIDE = 65_535;

    /** Empty where the file is none that Java can read. */
    public static Optional<PictureSize> of(byte[] file) {
        try (MemoryCacheImageInputStream in =
                new MemoryCacheImageInputStream(new ByteArrayInputStream(file))) {
            Iterator<ImageReader> readers = ImageIO.getImageReaders(in);
            if (!readers.hasNext()) {
                return Optional.empty();
            }
            ImageReader reader = readers.next();
            try {
                reader.setInput(in, true, true);
                return Optional.of(new PictureSize(reader.getWidth(0), reader.getHeight(0)));
            } finally {
                reader.dispose();
            }
        } catch (IOException | RuntimeException e) {
            // Readers throw either on a head that is broken.
            return Optional.empty();
        }
    }

    public boolean fits() {
        return Math.max(width, height) <= LONGEST_SIDE
                && (long) width * height <= MOST_MEGAPIXELS * 1_000_000L;
    }
}
