package org.evenwash.controller;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Duration;
import java.time.Instant;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class SystemClockTest {
    @TempDir Path folder;

    @Test
    void withoutTheTimeServicesMark_theClockIsNotVouchedFor() {
        assertThat(new SystemClock(folder.resolve("synchronized")).synchronised()).isFalse();
    }

    @Test
    void freshMark_vouches() throws IOException {
        assertThat(clockMarked(Duration.ofMinutes(-30)).synchronised()).isTrue();
    }

    @Test
    void oldMark_noLongerVouches() throws IOException {
        assertThat(clockMarked(Duration.ofHours(-7)).synchronised()).isFalse();
    }

    @Test
    void markFromTheFuture_showsAClockThatWentBackward() throws IOException {
        assertThat(clockMarked(Duration.ofHours(1)).synchronised()).isFalse();
    }

    private SystemClock clockMarked(Duration fromNow) throws IOException {
        Path mark = Files.createFile(folder.resolve("synchronized"));
        Files.setLastModifiedTime(mark, FileTime.from(Instant.now().plus(fromNow)));
        return new SystemClock(mark);
    }
}
