package org.evenwash.controller.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Duration;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import org.awaitility.Awaitility;
import org.evenwash.controller.Told;
import org.evenwash.controller.config.Configuration.Keeping;
import org.evenwash.controller.port.Unsent.Letter;
import org.evenwash.controller.process.CycleEvidence;
import org.evenwash.controller.process.Entry;
import org.evenwash.controller.process.OutboxState;
import org.evenwash.controller.process.Recipes;
import org.evenwash.controller.sim.SimulatedBench;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Outcome;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class OutboxWriterTest {
    private static final long NOW_MS = 1_780_000_000_000L;

    @TempDir Path folder;
    private OutboxFile file;
    private OutboxWriter writer;

    @BeforeEach
    void open() throws OutboxRefused {
        file = OutboxFile.open(folder.resolve("outbox.db"));
        writer = writer(new Keeping(90, 100, 1_000));
    }

    @AfterEach
    void close() {
        writer.close();
    }

    private OutboxWriter writer(Keeping keeping) {
        return new OutboxWriter(file, folder, keeping, new Plain(), () -> NOW_MS, () -> {});
    }

    @Test
    void entries_becomeDurableInOrder_andCanBeSent() {
        writer.start();
        for (long serial = 1; serial <= 5; serial++) {
            writer.append(event(serial));
        }

        await(() -> writer.durable() == 5);
        assertThat(writer.after(0, 10))
                .extracting(Letter::sequence)
                .containsExactly(1L, 2L, 3L, 4L, 5L);
        assertThat(writer.state()).isEqualTo(OutboxState.WRITABLE);
    }

    @Test
    void handingOver_neverWaits_andAnEntryThatIsLost_isToldOnce() {
        try (Told told = new Told()) {
            for (long serial = 1; serial <= OutboxWriter.MOST_WAITING + 3; serial++) {
                writer.append(event(serial));
            }
            assertThat(told.text()).containsOnlyOnce("entries are lost");
            assertThat(told.text()).contains("restart the controller");
        }
        assertThat(writer.state()).isEqualTo(OutboxState.UNWRITABLE);
        assertThat(writer.durable()).isZero();

        file.pragma("synchronous = OFF");
        writer.start();
        await(() -> writer.waiting() == 0);
        assertThat(writer.state()).isEqualTo(OutboxState.UNWRITABLE);
    }

    /** The logger sends its receipts for what it has already, again and again, while nothing can be stored. */
    @Test
    void receiptsPileUpOnDeadStorage_theMachinesEntriesStillFindRoom_andItHeals() throws Exception {
        file.pragma("synchronous = OFF");
        OutboxFile.Row row = stored();
        UUID unsaid = UUID.randomUUID();
        file.pragma("query_only = ON");
        writer.start();
        for (int i = 0; i < 2 * OutboxWriter.MOST_WAITING; i++) {
            writer.release(SampleMessages.receipt(row));
            writer.resend(file.outboxId(), 1, 1);
            writer.aside(() -> {});
        }
        try (Told told = new Told()) {
            writer.event((id, outbox, n) -> SampleMessages.event(unsaid, outbox, n));
            assertThat(told.text()).contains("event is not kept", "The controller started.");
        }
        writer.append(event(1));
        await(() -> writer.state() == OutboxState.UNWRITABLE);
        file.pragma("query_only = OFF");

        await(() -> writer.durable() == 1 && writer.state() == OutboxState.WRITABLE);
    }

    @Test
    void deedAside_isDoneWhateverTheStorageDoes_theLatestAtLeast() {
        file.pragma("query_only = ON");
        writer.start();
        writer.append(event(1));
        AtomicInteger shown = new AtomicInteger();
        for (int i = 1; i <= OutboxWriter.MOST_WAITING; i++) {
            int now = i;
            writer.aside(() -> shown.set(now));
        }
        await(() -> shown.get() == OutboxWriter.MOST_WAITING);
        file.pragma("query_only = OFF");
    }

    @Test
    void writerThatBreaksDown_saysSo_andNoCycleCanBegin() {
        writer.start();
        try (Told told = new Told()) {
            writer.event(
                    (id, outbox, n) -> {
                        throw new IllegalStateException("a mistake in the program");
                    });
            await(() -> writer.state() == OutboxState.UNWRITABLE);
            await(() -> told.text().contains("restart the controller"));
        }
        writer.append(event(1));
        assertThat(writer.state()).isEqualTo(OutboxState.UNWRITABLE);
        assertThat(writer.durable()).isZero();
    }

    private OutboxFile.Row stored() {
        UUID id = UUID.randomUUID();
        return file.event(id, n -> SampleMessages.event(id, file.outboxId(), n));
    }

    @Test
    void readOnlyStorage_refusesStarts_andHeals() {
        file.pragma("query_only = ON");
        writer.start();
        writer.append(event(1));
        await(() -> writer.state() == OutboxState.UNWRITABLE);
        assertThat(writer.durable()).isZero();
        file.pragma("query_only = OFF");

        await(() -> writer.durable() == 1 && writer.state() == OutboxState.WRITABLE);
    }

    @Test
    void fullStorage_refusesStarts_andHeals() {
        file.pragma("max_page_count = 1");
        writer.start();
        for (long serial = 1; serial <= 60; serial++) {
            writer.append(event(serial));
        }
        await(() -> writer.state() == OutboxState.FULL);
        file.pragma("max_page_count = 100000");

        await(() -> writer.durable() == 60 && writer.state() == OutboxState.WRITABLE);
    }

    @Test
    void moreUnsentThanAllowed_refusesStarts_untilReceiptsCome() {
        writer.close();
        file = reopened();
        writer = writer(new Keeping(90, 2, 1_000)).start();
        writer.append(event(1));
        writer.append(event(2));
        await(() -> writer.state() == OutboxState.FULL);
        file.unreleased(0, 10).forEach(row -> writer.release(SampleMessages.receipt(row)));

        await(() -> writer.state() == OutboxState.WRITABLE);
    }

    @Test
    void lessRoomThanAskedFor_refusesStarts() {
        writer.close();
        file = reopened();
        writer = writer(new Keeping(90, 100, Long.MAX_VALUE)).start();

        assertThat(writer.state()).isEqualTo(OutboxState.FULL);
    }

    @Test
    void closing_storesWhatWaits() throws OutboxRefused {
        for (long serial = 1; serial <= 20; serial++) {
            writer.append(event(serial));
        }
        writer.start();
        writer.close();
        file = reopened();

        assertThat(file.depth()).isEqualTo(20);
        writer = writer(new Keeping(90, 100, 1_000));
    }

    /** A write that does not come back keeps the file to itself, as a sync on a dead card does. */
    @Test
    void storageThatNeverAnswers_doesNotHoldUpTheEnd_andItIsToldWhatWasLeft() throws Exception {
        CountDownLatch writing = new CountDownLatch(1);
        CompletableFuture<Void> answer = new CompletableFuture<>();
        answer.completeOnTimeout(null, 20, TimeUnit.SECONDS); // lets a test that fails end
        file.betweenStatements(
                () -> {
                    writing.countDown();
                    answer.join(); // no interrupt ends it
                });
        writer.start();
        writer.append(event(1));
        writing.await();
        writer.append(event(2));
        try (Told told = new Told()) {
            writer.close(Duration.ofMillis(1));
            assertThat(answer).isNotDone();
            assertThat(told.text()).contains("[ERROR]", "left open with 2 entries not stored");
        } finally {
            answer.complete(null);
        }
        await(() -> writer.durable() == 2);
    }

    @Test
    void wholeCycle_leavesOneRecordAndNoDraft() {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWENTY_SECONDS);
        bench.advance(Duration.ofSeconds(30)).changeJars();
        writer.start();
        bench.entries().forEach(writer::append);

        long last = bench.entries().get(bench.entries().size() - 1).serial();
        await(() -> writer.durable() == last);
        assertThat(file.recover().cycles()).isEmpty();
        assertThat(writer.after(0, 100).stream().filter(l -> l.kind().name().equals("CYCLE")))
                .hasSize(1);
    }

    @Test
    void progressOfABout_isStored_exceptWhileSomethingElseWaits() {
        CycleEvidence soFar =
                SimulatedBench.running(Recipes.TWENTY_SECONDS)
                        .advance(Duration.ofSeconds(5))
                        .entries()
                        .stream()
                        .filter(Entry.BoutUnderWay.class::isInstance)
                        .map(entry -> ((Entry.BoutUnderWay) entry).soFar())
                        .findFirst()
                        .orElseThrow();
        writer.append(event(1));
        writer.append(new Entry.BoutUnderWay(2, soFar));
        assertThat(writer.waiting()).isEqualTo(1);
        writer.start();
        await(() -> writer.waiting() == 0);
        assertThat(writer.durable()).isEqualTo(1);

        writer.append(new Entry.BoutUnderWay(3, soFar));
        await(() -> writer.durable() == 3);
        assertThat(file.recover().cycles()).hasSize(1);
    }

    private OutboxFile reopened() {
        try {
            return OutboxFile.open(folder.resolve("outbox.db"));
        } catch (OutboxRefused e) {
            throw new AssertionError(e);
        }
    }

    private static Entry event(long serial) {
        return new Entry.BenchEvent(
                serial, Entry.Kind.TRIP, "LID-OPEN", "lid open", null, 1, NOW_MS, true);
    }

    private static void await(java.util.concurrent.Callable<Boolean> wanted) {
        Awaitility.await()
                .atMost(Duration.ofSeconds(20))
                .pollInterval(Duration.ofMillis(10))
                .until(wanted);
    }

    private static final class Plain implements EntryTranslation {
        @Override
        public CycleRecord cycle(CycleEvidence evidence, UUID outboxId, long sequence) {
            return SampleMessages.cycle(evidence.cycleId(), outboxId, sequence, Outcome.COMPLETE);
        }

        @Override
        public BenchEvent event(
                Entry.BenchEvent event, UUID eventId, UUID outboxId, long sequence) {
            return SampleMessages.event(eventId, outboxId, sequence);
        }
    }
}
