package org.evenwash.logger.report;

import static org.assertj.core.api.Assertions.assertThat;

import com.sun.management.ThreadMXBean;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import javax.imageio.ImageIO;
import org.evenwash.logger.BlackPng;
import org.junit.jupiter.api.Test;

/** Small files that unpack to large pictures: the logger has 256 MB for everything. */
class PhotoBlocksTest {
    private static final long SMALL_B = 48L << 20;

    private static long allocated_B() {
        return ((ThreadMXBean) ManagementFactory.getThreadMXBean())
                .getCurrentThreadAllocatedBytes();
    }

    @Test
    void photoAsLargeAsTheyMayBe_isShrunkInLittleMemory() throws IOException {
        byte[] file = BlackPng.of(8_000, 6_000);
        long before_B = allocated_B();
        Block.Photo photo = PhotoBlocks.shrunk(file, "").orElseThrow();
        assertThat(allocated_B() - before_B).isLessThan(SMALL_B);
        BufferedImage read = ImageIO.read(new ByteArrayInputStream(photo.jpeg()));
        assertThat(read.getWidth()).isEqualTo(1_000);
        assertThat(read.getHeight()).isEqualTo(750);
    }

    @Test
    void photoWithFarMorePixels_storedBeforeTheyWereCounted_isLeftOut() {
        byte[] file = BlackPng.of(12_000, 12_000);
        long before_B = allocated_B();
        assertThat(PhotoBlocks.shrunk(file, "")).isEmpty();
        assertThat(allocated_B() - before_B).isLessThan(SMALL_B);
    }
}
