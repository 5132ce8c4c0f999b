package org.evenwash.controller.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.evenwash.controller.store.SampleMessages.cycle;
import static org.evenwash.controller.store.SampleMessages.receipt;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.evenwash.controller.store.OutboxFile.Row;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Messages;
import org.evenwash.record.Outcome;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A kill between any two statements. What a killed program leaves is what its files hold at that
 * moment, so each moment's files are copied and the copy is opened as the next start would.
 */
class OutboxCrashTest {
    @TempDir Path folder;

    private final List<Path> moments = new ArrayList<>();
    private final Map<Path, List<UUID>> begunBefore = new HashMap<>();
    private final List<UUID> begun = new ArrayList<>();

    @Test
    void killBetweenAnyTwoStatements_losesNoCycle_doublesNone_andLeavesNoGap() throws Exception {
        Path live = Files.createDirectory(folder.resolve("live"));
        try (OutboxFile outbox = OutboxFile.open(live.resolve("outbox.db"))) {
            outbox.betweenStatements(() -> snapshot(live));
            for (int i = 0; i < 3; i++) {
                UUID cycleId = UUID.randomUUID();
                outbox.draft(cycle(cycleId, outbox.outboxId(), 1, Outcome.INTERRUPTED));
                begun.add(cycleId);
                UUID eventId = UUID.randomUUID();
                outbox.event(eventId, n -> SampleMessages.event(eventId, outbox.outboxId(), n));
                outbox.draft(cycle(cycleId, outbox.outboxId(), 1, Outcome.INTERRUPTED));
                Row row =
                        outbox.finish(
                                cycleId,
                                n -> cycle(cycleId, outbox.outboxId(), n, Outcome.COMPLETE));
                outbox.release(receipt(row), 1);
                outbox.resend(outbox.outboxId(), row.sequence(), row.sequence());
            }
        }

        assertThat(moments).hasSizeGreaterThan(30);
        for (Path moment : moments) {
            checkAfterRestart(moment);
        }
    }

    private void snapshot(Path live) {
        try {
            Path copy = Files.createDirectory(folder.resolve("moment-" + moments.size()));
            for (String suffix : List.of("", "-wal", "-shm")) {
                Path file = live.resolve("outbox.db" + suffix);
                if (Files.exists(file)) {
                    Files.copy(file, copy.resolve(file.getFileName()));
                }
            }
            moments.add(copy);
            begunBefore.put(copy, List.copyOf(begun));
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }

    private void checkAfterRestart(Path moment) throws Exception {
        try (OutboxFile outbox = OutboxFile.open(moment.resolve("outbox.db"))) {
            outbox.recover();
            // Released or not: all are offered again, so all can be looked at.
            outbox.resend(outbox.outboxId(), 1, Long.MAX_VALUE);
            List<Row> rows = outbox.unreleased(0, 1_000);
            List<UUID> cycles = new ArrayList<>();
            for (int i = 0; i < rows.size(); i++) {
                assertThat(rows.get(i).sequence()).as("%s", moment).isEqualTo(i + 1L);
                if (rows.get(i).kind() == org.evenwash.record.Topics.Kind.CYCLE) {
                    CycleRecord record = Messages.read(rows.get(i).payload(), CycleRecord.class);
                    cycles.add(record.cycleId());
                }
            }
            assertThat(cycles).as("%s", moment).doesNotHaveDuplicates();
            assertThat(cycles).as("%s", moment).containsAll(begunBefore.get(moment));
        }
    }
}
