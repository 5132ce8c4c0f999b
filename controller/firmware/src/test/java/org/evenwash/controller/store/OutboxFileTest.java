package org.evenwash.controller.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.evenwash.controller.store.SampleMessages.cycle;
import static org.evenwash.controller.store.SampleMessages.receipt;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.Statement;
import java.time.Duration;
import java.util.UUID;
import org.evenwash.controller.store.OutboxFile.Release;
import org.evenwash.controller.store.OutboxFile.Row;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Messages;
import org.evenwash.record.Outcome;
import org.evenwash.record.Receipt;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class OutboxFileTest {
    private static final long NOW_MS = 1_780_000_000_000L;

    @TempDir Path folder;
    private OutboxFile outbox;

    @BeforeEach
    void open() throws OutboxRefused {
        outbox = OutboxFile.open(folder.resolve("outbox.db"));
    }

    @AfterEach
    void close() {
        outbox.close();
    }

    @Test
    void messages_areNumberedWithoutGaps_andKeptAcrossARestart() throws Exception {
        UUID id = outbox.outboxId();
        finished();
        event();
        outbox.close();
        open();
        event();

        assertThat(outbox.outboxId()).isEqualTo(id);
        assertThat(outbox.unreleased(0, 10)).extracting(Row::sequence).containsExactly(1L, 2L, 3L);
        assertThat(outbox.depth()).isEqualTo(3);
        assertThat(outbox.lastSequence()).isEqualTo(3);
    }

    @Test
    void payload_carriesItsOwnNumberAndItsHash() throws Exception {
        event();
        Row row = finished();

        assertThat(Messages.read(row.payload(), CycleRecord.class).sequence()).isEqualTo(2);
        assertThat(row.sha256()).isEqualTo(Messages.sha256(row.payload()));
        assertThat(outbox.unreleased(1, 10))
                .singleElement()
                .satisfies(
                        again -> {
                            assertThat(again.payload()).isEqualTo(row.payload());
                            assertThat(again.messageId()).isEqualTo(row.messageId());
                        });
    }

    @Test
    void messageThatCannotBeStored_usesUpNoNumber() {
        outbox.pragma("query_only = ON");
        assertThatThrownBy(this::event)
                .isInstanceOfSatisfying(OutboxFailure.class, e -> assertThat(e.full()).isFalse())
                .hasMessageContaining("cannot store event");
        outbox.pragma("query_only = OFF");

        assertThat(event().sequence()).isEqualTo(1);
    }

    @Test
    void fullStorage_isToldFromBrokenStorage_andIsForgivenOnceThereIsRoom() {
        outbox.pragma("max_page_count = 1");
        assertThatThrownBy(
                        () -> {
                            for (int i = 0; i < 100; i++) {
                                finished();
                            }
                        })
                .isInstanceOfSatisfying(OutboxFailure.class, e -> assertThat(e.full()).isTrue());
        long before = outbox.lastSequence();
        outbox.pragma("max_page_count = 100000");

        assertThat(finished().sequence()).isEqualTo(before + 1);
    }

    @Test
    void receiptWithTheRightHash_releasesTheRow_andItIsKept() {
        Row row = finished();

        assertThat(outbox.release(receipt(row), NOW_MS)).isEqualTo(Release.RELEASED);
        assertThat(outbox.unreleased(0, 10)).isEmpty();
        assertThat(outbox.release(receipt(row), NOW_MS)).isEqualTo(Release.ALREADY_RELEASED);
        assertThat(outbox.resend(outbox.outboxId(), 1, 1)).isEqualTo(1);
        assertThat(outbox.unreleased(0, 10)).hasSize(1);
    }

    @Test
    void everyResultOfAReceipt_releasesTheRow() {
        for (Receipt.Result result : Receipt.Result.values()) {
            Row row = finished();
            Receipt receipt =
                    new Receipt(Receipt.SCHEMA, row.messageId(), row.sha256(), result, "why");
            assertThat(outbox.release(receipt, NOW_MS)).isEqualTo(Release.RELEASED);
        }
    }

    @Test
    void receiptForOtherContent_releasesNothing() {
        Row row = finished();
        Receipt wrong =
                new Receipt(
                        Receipt.SCHEMA,
                        row.messageId(),
                        Messages.sha256(new byte[] {1}),
                        Receipt.Result.STORED,
                        null);

        assertThat(outbox.release(wrong, NOW_MS)).isEqualTo(Release.OTHER_CONTENT);
        assertThat(outbox.depth()).isEqualTo(1);
    }

    @Test
    void receiptForSomethingElse_isOnlyReported() {
        Receipt stray =
                new Receipt(
                        Receipt.SCHEMA,
                        UUID.randomUUID(),
                        Messages.sha256(new byte[0]),
                        Receipt.Result.STORED,
                        null);

        assertThat(outbox.release(stray, NOW_MS)).isEqualTo(Release.UNKNOWN_MESSAGE);
    }

    @Test
    void resend_takesBothEndsOfTheRange_andOnlyItsOwnOutbox() {
        for (int i = 0; i < 5; i++) {
            outbox.release(receipt(finished()), NOW_MS);
        }

        assertThat(outbox.resend(UUID.randomUUID(), 1, 5)).isZero();
        assertThat(outbox.resend(outbox.outboxId(), 2, 4)).isEqualTo(3);
        assertThat(outbox.unreleased(0, 10)).extracting(Row::sequence).containsExactly(2L, 3L, 4L);
    }

    @Test
    void releasedRows_goWhenTheyAreOldAndNotAmongTheNewestThousand() {
        int rows = OutboxFile.NEWEST_KEPT + 3;
        outbox.pragma("synchronous = OFF");
        for (int i = 0; i < rows; i++) {
            Row row = event();
            // The fifth from the oldest was never confirmed.
            if (row.sequence() != 5) {
                outbox.release(receipt(row), NOW_MS);
            }
        }

        assertThat(outbox.prune(NOW_MS + Duration.ofDays(89).toMillis(), Duration.ofDays(90)))
                .isZero();
        assertThat(outbox.prune(NOW_MS + Duration.ofDays(91).toMillis(), Duration.ofDays(90)))
                .isEqualTo(2);
        assertThat(outbox.resend(outbox.outboxId(), 1, rows)).isEqualTo(OutboxFile.NEWEST_KEPT);
        assertThat(outbox.unreleased(0, 1).get(0).sequence()).isEqualTo(3);
        assertThat(event().sequence()).isEqualTo(rows + 1);
    }

    @Test
    void draft_becomesARecordAtTheNextStart_once() throws Exception {
        UUID cycleId = UUID.randomUUID();
        outbox.draft(cycle(cycleId, outbox.outboxId(), 1, Outcome.INTERRUPTED));
        outbox.draft(cycle(cycleId, outbox.outboxId(), 1, Outcome.INTERRUPTED));
        event();
        outbox.close();
        open();

        assertThat(outbox.recover().cycles())
                .extracting(CycleRecord::cycleId)
                .containsExactly(cycleId);
        assertThat(outbox.recover().cycles()).isEmpty();
        Row row = outbox.unreleased(1, 10).get(0);
        CycleRecord record = Messages.read(row.payload(), CycleRecord.class);
        assertThat(record.outcome()).isEqualTo(Outcome.INTERRUPTED);
        assertThat(record.sequence()).isEqualTo(2);
    }

    /** The logger would take number 1 of the other outbox for one that it has already. */
    @Test
    void draftOfAnotherOutbox_leavesUnderTheIdThatItsNumberIsOf() throws Exception {
        outbox.draft(cycle(UUID.randomUUID(), UUID.randomUUID(), 1, Outcome.INTERRUPTED));

        assertThat(outbox.recover().cycles()).hasSize(1);
        Row row = outbox.unreleased(0, 10).get(0);
        CycleRecord record = Messages.read(row.payload(), CycleRecord.class);
        assertThat(record.outboxId()).isEqualTo(outbox.outboxId());
    }

    @Test
    void draftThatIsDamaged_isKept_andItsCycleIsNamed() throws Exception {
        UUID cycleId = UUID.randomUUID();
        outbox.draft(cycle(cycleId, outbox.outboxId(), 1, Outcome.INTERRUPTED));
        outbox.close();
        sql("UPDATE draft SET record = replace(record, 'INTERRUPTED', 'INTERRUPTEE')");
        open();

        OutboxFile.Recovered recovered = outbox.recover();
        assertThat(recovered.cycles()).isEmpty();
        assertThat(recovered.unreadable()).containsExactly(cycleId.toString());
        assertThat(outbox.recover().unreadable()).as("told once").isEmpty();
    }

    private void sql(String sql) throws Exception {
        try (Connection connection =
                        DriverManager.getConnection("jdbc:sqlite:" + folder.resolve("outbox.db"));
                Statement statement = connection.createStatement()) {
            assertThat(statement.executeUpdate(sql)).isEqualTo(1);
        }
    }

    @Test
    void finishedCycle_leavesNoDraft() {
        UUID cycleId = UUID.randomUUID();
        outbox.draft(cycle(cycleId, outbox.outboxId(), 1, Outcome.INTERRUPTED));
        outbox.finish(cycleId, n -> cycle(cycleId, outbox.outboxId(), n, Outcome.COMPLETE));

        assertThat(outbox.recover().cycles()).isEmpty();
        assertThat(outbox.depth()).isEqualTo(1);
    }

    @Test
    void facts_areRemembered() throws Exception {
        outbox.remember("proof-test", "1");
        outbox.remember("proof-test", "2");
        outbox.close();
        open();

        assertThat(outbox.recall("proof-test")).contains("2");
        assertThat(outbox.recall("other")).isEmpty();
    }

    private Row finished() {
        UUID cycleId = UUID.randomUUID();
        return outbox.finish(cycleId, n -> cycle(cycleId, outbox.outboxId(), n, Outcome.COMPLETE));
    }

    private Row event() {
        UUID eventId = UUID.randomUUID();
        return outbox.event(
                eventId,
                n -> {
                    BenchEvent event = SampleMessages.event(eventId, outbox.outboxId(), n);
                    return event;
                });
    }
}
