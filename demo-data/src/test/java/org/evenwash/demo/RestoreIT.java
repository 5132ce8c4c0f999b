package org.evenwash.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A backup that was written while records came in, and what the benches do about what it lacks. */
class RestoreIT {
    @TempDir Path folder;

    @Test
    void backupTakenWhileWriting_restores_andTheBenchOffersAgainWhatItLacks() throws Exception {
        FaultPlan calm = new FaultPlan(1, SetUp.EMBEDDED, List.of());
        try (Trouble trouble = new Trouble(calm, folder)) {
            Yard yard = trouble.yard();
            BenchHand hand = trouble.hand();
            yard.open();
            trouble.startController();
            hand.work(Duration.ofSeconds(3));
            Path backup = folder.resolve("while-writing.db");
            Program writing = yard.beginLoggerCommand("backup", backup.toString());
            while (writing.isAlive()) {
                hand.work(Duration.ofMillis(300));
            }
            assertThat(writing.awaitExit()).as(writing.tail()).isZero();
            assertThat(Yard.column(backup, "PRAGMA integrity_check")).containsExactly("ok");
            List<String> held = Yard.column(backup, "SELECT id FROM cycle");
            hand.oneWholeWash(Duration.ofSeconds(90));
            assertThat(Judge.of(trouble).clean()).isTrue();

            trouble.killLogger();
            yard.loggerCommand("restore", backup.toString());
            assertThat(Yard.column(yard.database(), "SELECT id FROM cycle"))
                    .hasSameElementsAs(held);
            trouble.startLogger();

            Judge.awaitAll(trouble);
            Judge.Verdict verdict = Judge.of(trouble);
            assertThat(verdict.clean()).as(verdict + "\n" + yard.story()).isTrue();
            assertThat(verdict.cycles()).isGreaterThan(held.size());
        }
    }
}
