package org.evenwash.controller.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.evenwash.controller.store.SampleMessages.cycle;
import static org.evenwash.controller.store.SampleMessages.receipt;

import java.io.IOException;
import java.io.RandomAccessFile;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.UUID;
import java.util.stream.LongStream;
import java.util.stream.Stream;
import org.evenwash.controller.store.OutboxFile.Row;
import org.evenwash.controller.store.OutboxSalvage.Saved;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Messages;
import org.evenwash.record.Outcome;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Pages of the file are overwritten; what stands in the others has to be found again. */
class OutboxSalvageTest {
    private static final int PAGE = 4_096;
    private static final int MESSAGES = 60;
    private static final int RELEASED = 20;
    private static final Map<String, String> NO_FACTS = Map.of();

    @TempDir Path folder;
    private Path file;
    private UUID outboxId;
    private final List<Row> rows = new ArrayList<>();

    /** Sixty messages, the first twenty confirmed; a draft, a fact. */
    @BeforeEach
    void fill() throws Exception {
        file = folder.resolve("outbox.db");
        try (OutboxFile outbox = OutboxFile.open(file)) {
            outbox.pragma("synchronous = OFF");
            outboxId = outbox.outboxId();
            for (int i = 0; i < MESSAGES; i++) {
                UUID id = UUID.randomUUID();
                rows.add(
                        i % 3 == 0
                                ? outbox.finish(id, n -> cycle(id, outboxId, n, Outcome.COMPLETE))
                                : outbox.event(id, n -> SampleMessages.event(id, outboxId, n)));
            }
            rows.stream().limit(RELEASED).forEach(row -> outbox.release(receipt(row), 1));
            UUID open = UUID.randomUUID();
            outbox.draft(cycle(open, outboxId, 1, Outcome.INTERRUPTED));
            outbox.remember("previous-cycle", "kept");
        }
    }

    private long number(String sql) throws Exception {
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file);
                Statement statement = connection.createStatement();
                ResultSet row = statement.executeQuery(sql)) {
            return row.getLong(1);
        }
    }

    private long rootPage(String name) throws Exception {
        return number("SELECT rootpage FROM sqlite_schema WHERE name = '" + name + "'");
    }

    private void overwrite(long page) throws Exception {
        byte[] garbage = new byte[PAGE];
        Arrays.fill(garbage, (byte) 0x5A);
        try (RandomAccessFile bytes = new RandomAccessFile(file.toFile(), "rw")) {
            bytes.seek((page - 1) * PAGE);
            bytes.write(garbage);
        }
    }

    private Saved salvaged() throws Exception {
        assertThatThrownBy(() -> OutboxFile.open(file))
                .isInstanceOf(OutboxRefused.class)
                .hasMessageContaining("evenwash-controller salvage");
        return OutboxSalvage.salvage(file, NO_FACTS).orElseThrow();
    }

    @Test
    void soundOutbox_isLeftAlone() throws Exception {
        byte[] before = Files.readAllBytes(file);
        assertThat(OutboxSalvage.salvage(file, NO_FACTS)).isEqualTo(Optional.empty());
        assertThat(file).hasBinaryContent(before);
    }

    @Test
    void foreignFile_isLeftAlone() throws Exception {
        Files.writeString(file, "not a database, ".repeat(50));
        assertThatThrownBy(() -> OutboxSalvage.salvage(file, NO_FACTS))
                .hasMessageContaining("was not made by this program");
        assertThat(folder.toFile().list()).containsExactly("outbox.db");
    }

    @Test
    void onePageOfMessages_theOthersAreSaved_withIdNumbersAndMemory() throws Exception {
        // A table of this size has one page above its leaves; its second child is somewhere in the
        // middle.
        overwrite(child(1));

        Saved saved = salvaged();
        assertThat(saved.messages()).isBetween(MESSAGES / 2, MESSAGES - 1);
        assertThat(saved.unreadable()).hasValue(MESSAGES - saved.messages());
        assertThat(saved.partly()).isEmpty();
        try (OutboxFile outbox = OutboxFile.open(file)) {
            assertThat(outbox.outboxId()).isEqualTo(outboxId);
            assertThat(outbox.lastSequence()).isEqualTo(MESSAGES);
            assertThat(outbox.depth()).isEqualTo(saved.unconfirmed());
            assertThat(outbox.recall("previous-cycle")).contains("kept");
            List<Row> again = outbox.unreleased(0, MESSAGES);
            assertThat(again)
                    .allSatisfy(row -> assertSame(row, rows.get((int) row.sequence() - 1)));
            UUID id = UUID.randomUUID();
            Row next = outbox.event(id, n -> SampleMessages.event(id, outboxId, n));
            assertThat(next.sequence()).isEqualTo(MESSAGES + 1L);
            assertThat(outbox.recover().cycles()).hasSize(1);
        }
    }

    private static void assertSame(Row row, Row before) {
        assertThat(row.messageId()).isEqualTo(before.messageId());
        assertThat(row.kind()).isEqualTo(before.kind());
        assertThat(row.payload()).isEqualTo(before.payload());
        assertThat(row.sha256()).isEqualTo(before.sha256());
    }

    /** A page below the first one of the table of messages, counted from 0. */
    private long child(int n) throws Exception {
        long root = rootPage("message");
        ByteBuffer bytes = ByteBuffer.wrap(Files.readAllBytes(file));
        int at = (int) (root - 1) * PAGE;
        assertThat(bytes.get(at)).as("an interior page of a table").isEqualTo((byte) 5);
        // File format, section 1.6: the cell pointers follow the header of 12 bytes; a cell begins
        // with its child.
        return bytes.getInt(at + bytes.getShort(at + 12 + 2 * n));
    }

    @Test
    void pageOfTheOutboxsOwnId_thePayloadsTellIt() throws Exception {
        overwrite(rootPage("outbox"));

        Saved saved = salvaged();
        assertThat(saved.messages()).isEqualTo(MESSAGES);
        assertThat(saved.unconfirmed()).isEqualTo(MESSAGES - RELEASED);
        assertThat(saved.unreadable()).hasValue(0);
        try (OutboxFile outbox = OutboxFile.open(file)) {
            assertThat(outbox.outboxId()).isEqualTo(outboxId);
            assertThat(outbox.lastSequence()).isEqualTo(MESSAGES);
            assertThat(outbox.resend(outboxId, 1, MESSAGES)).isEqualTo(RELEASED);
        }
    }

    /** A bench's first messages were dropped years ago: nobody has lost them. */
    @Test
    void firstPageOfWhatWasKept_onlyItsOwnMessagesCountAsUnreadable() throws Exception {
        sql("DELETE FROM message WHERE sequence <= " + RELEASED);
        overwrite(child(0));

        Saved saved = salvaged();
        assertThat(saved.messages()).isLessThan(MESSAGES - RELEASED);
        assertThat(saved.unreadable()).hasValue(MESSAGES - RELEASED - saved.messages());
    }

    @Test
    void neitherItsRowNorAMessageTellsTheOutboxsId_aDraftDoes() throws Exception {
        sql("UPDATE message SET sha256 = 'damaged'");
        overwrite(rootPage("outbox"));

        assertThat(salvaged().messages()).isZero();
        try (OutboxFile outbox = OutboxFile.open(file)) {
            assertThat(outbox.outboxId()).isEqualTo(outboxId);
            assertThat(outbox.lastSequence()).isEqualTo(MESSAGES);
        }
    }

    @Test
    void nothingTellsAnyNumber_theDraftsRecordGetsANewIdWithItsNewNumber() throws Exception {
        overwrite(rootPage("outbox"));
        overwrite(rootPage("message"));
        overwrite(rootPage("sqlite_autoindex_message_1"));

        assertThat(salvaged().messages()).isZero();
        try (OutboxFile outbox = OutboxFile.open(file)) {
            assertThat(outbox.outboxId()).isNotEqualTo(outboxId);
            assertThat(outbox.recover().cycles()).hasSize(1);
            Row first = outbox.unreleased(0, 1).get(0);
            assertThat(Messages.read(first.payload(), CycleRecord.class).outboxId())
                    .isEqualTo(outbox.outboxId());
        }
    }

    @Test
    void nothingTellsTheLastNumber_someAreLeftOut_soThatNoneIsUsedTwice() throws Exception {
        long lastLeaf =
                ByteBuffer.wrap(Files.readAllBytes(file))
                        .getInt((int) (rootPage("message") - 1) * PAGE + 8);
        overwrite(rootPage("outbox"));
        overwrite(rootPage("sqlite_autoindex_message_1"));
        overwrite(lastLeaf);

        Saved saved = salvaged();
        assertThat(saved.messages()).isBetween(MESSAGES / 2, MESSAGES - 1);
        assertThat(saved.unreadable()).isEmpty();
        try (OutboxFile outbox = OutboxFile.open(file)) {
            assertThat(outbox.outboxId()).isEqualTo(outboxId);
            assertThat(outbox.lastSequence()).isGreaterThan(MESSAGES);
        }
    }

    @Test
    void pagesOfMemory_areNamed_andTheMessagesAreSaved() throws Exception {
        overwrite(rootPage("fact"));
        overwrite(rootPage("draft"));

        Saved saved = salvaged();
        assertThat(saved.messages()).isEqualTo(MESSAGES);
        assertThat(saved.partly()).containsExactly("fact", "draft");
    }

    @Test
    void changedPayload_isTheOnlyOneThatIsMissing() throws Exception {
        sql("UPDATE message SET payload = x'7B7D' WHERE sequence = 40");
        // Columns that no hash guards are told by the payload.
        sql("UPDATE message SET kind = 'EVENU' WHERE sequence = 41");

        Saved saved = salvaged();
        assertThat(saved.messages()).isEqualTo(MESSAGES - 1);
        assertThat(saved.unreadable()).hasValue(1);
        try (OutboxFile outbox = OutboxFile.open(file)) {
            assertThat(outbox.unreleased(39, 1).get(0).sequence()).isEqualTo(41);
            assertSame(outbox.unreleased(39, 1).get(0), rows.get(40));
        }
    }

    @Test
    void firstPage_nothingIsReadable_allIsPutAside_andANewOneBegins() throws Exception {
        byte[] bytes = Files.readAllBytes(file);
        Arrays.fill(bytes, 100, PAGE, (byte) 0x5A);
        Files.write(file, bytes);

        Saved saved = salvaged();
        assertThat(saved.messages()).isZero();
        assertThat(saved.unreadable()).isEmpty();
        assertThat(saved.aside().resolve("outbox.db")).hasBinaryContent(bytes);
        try (OutboxFile outbox = OutboxFile.open(file)) {
            assertThat(outbox.outboxId()).isNotEqualTo(outboxId);
            assertThat(outbox.lastSequence()).isZero();
        }
    }

    @Test
    void fewBytes_arePutAside() throws Exception {
        Files.write(file, new byte[] {1, 2, 3});
        assertThat(salvaged().messages()).isZero();
        OutboxFile.open(file).close();
    }

    /** What a kill leaves stands in the log, and the log goes where its file goes. */
    @Test
    void killedController_theMessagesInTheLogAreSaved_andTheLogGoesAlong() throws Exception {
        Path killed = Files.createDirectory(folder.resolve("killed"));
        UUID last = UUID.randomUUID();
        try (OutboxFile outbox = OutboxFile.open(file)) {
            outbox.event(last, n -> SampleMessages.event(last, outboxId, n));
            for (String name : List.of("outbox.db", "outbox.db-wal", "outbox.db-shm")) {
                Files.copy(folder.resolve(name), killed.resolve(name));
            }
        }
        file = killed.resolve("outbox.db");
        overwrite(rootPageOf(folder.resolve("outbox.db"), "fact"));
        byte[] log = Files.readAllBytes(killed.resolve("outbox.db-wal"));

        Saved saved = salvaged();
        assertThat(saved.messages()).isEqualTo(MESSAGES + 1);
        assertThat(saved.aside().resolve("outbox.db-wal")).hasBinaryContent(log);
        try (OutboxFile outbox = OutboxFile.open(file)) {
            assertThat(outbox.unreleased(MESSAGES, 1).get(0).messageId()).isEqualTo(last);
        }
        OutboxFile.open(file).close();
    }

    /**
     * The damage stands in the log alone. So the file without its log seems sound, and is of before the last
     * message; and the log beside the new file would damage that.
     */
    @Test
    void killedAtAnyRename_orAgainWhileThatIsMended_theNextStartHasAllThatWasSaved()
            throws Exception {
        Path killed = Files.createDirectory(folder.resolve("killed"));
        UUID last = UUID.randomUUID();
        try (OutboxFile outbox = OutboxFile.open(file)) {
            outbox.event(last, n -> SampleMessages.event(last, outboxId, n));
            sql("UPDATE message SET payload = x'7B7D' WHERE sequence = 40");
            for (String name : List.of("outbox.db", "outbox.db-wal", "outbox.db-shm")) {
                Files.copy(folder.resolve(name), killed.resolve(name));
            }
        }
        file = killed.resolve("outbox.db");
        byte[] log = Files.readAllBytes(killed.resolve("outbox.db-wal"));

        List<Path> left = new ArrayList<>();
        Map<String, String> facts = Map.of("previous-cycle", "as said");
        OutboxSalvage.salvage(file, facts, new Replacement(file, () -> copied(killed, left)));
        assertThat(left).as("the new one's two names, three files, their folder").hasSize(6);
        for (Path once : List.copyOf(left)) {
            Path half = copied(once, new ArrayList<>()).resolve("outbox.db");
            if (OutboxSalvage.isHalfDone(half)) {
                new Replacement(half, () -> copied(half.getParent(), left)).finish();
            }
        }
        assertThat(left).hasSizeGreaterThan(6 + 10);

        left.add(killed);
        for (Path one : left) {
            file = one.resolve("outbox.db");
            if (one.equals(left.get(0))) {
                assertThat(OutboxSalvage.salvage(file, facts)).isPresent();
            }
            try (OutboxFile outbox = OutboxFile.open(file)) {
                assertThat(outbox.outboxId()).isEqualTo(outboxId);
                assertThat(outbox.recall("previous-cycle")).contains("as said");
                assertThat(outbox.lastSequence()).isEqualTo(MESSAGES + 1);
                assertThat(outbox.unreleased(0, 100))
                        .extracting(Row::sequence)
                        .containsExactlyElementsOf(
                                LongStream.rangeClosed(RELEASED + 1, MESSAGES + 1)
                                        .filter(n -> n != 40)
                                        .boxed()
                                        .toList());
            }
            assertThat(one.toFile().list()).as("%s", one).hasSize(2).contains("outbox.db");
            try (Stream<Path> all = Files.walk(one)) {
                assertThat(all.filter(each -> each.endsWith("outbox.db-wal")))
                        .singleElement()
                        .satisfies(
                                moved -> {
                                    assertThat(moved).hasBinaryContent(log);
                                    assertThat(moved.resolveSibling("outbox.db")).exists();
                                });
            }
        }
    }

    private Path copied(Path from, List<Path> copies) {
        try (Stream<Path> all = Files.walk(from)) {
            Path to = Files.createTempDirectory(folder, "left");
            for (Path one : all.skip(1).toList()) {
                Files.copy(one, to.resolve(from.relativize(one)));
            }
            copies.add(to);
            return to;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private void sql(String sql) throws Exception {
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file);
                Statement statement = connection.createStatement()) {
            statement.execute(sql);
        }
    }

    private long rootPageOf(Path other, String name) throws Exception {
        Path mine = file;
        file = other;
        try {
            return rootPage(name);
        } finally {
            file = mine;
        }
    }

    /** Whatever was hit, the new outbox opens, and every message in it is one that was there. */
    @Test
    void anyTwoPages_leaveAnOutboxThatOpens() throws Exception {
        byte[] whole = Files.readAllBytes(file);
        Random random = new Random(20261130);
        for (int run = 0; run < 40; run++) {
            Files.write(file, whole);
            overwrite(2 + random.nextInt(whole.length / PAGE - 1));
            overwrite(2 + random.nextInt(whole.length / PAGE - 1));
            Optional<Saved> saved = OutboxSalvage.salvage(file, NO_FACTS);
            try (OutboxFile outbox = OutboxFile.open(file)) {
                assertThat(outbox.outboxId()).as("run %d: %s", run, saved).isEqualTo(outboxId);
                assertThat(outbox.lastSequence()).isGreaterThanOrEqualTo(MESSAGES);
                assertThat(outbox.unreleased(0, MESSAGES))
                        .as("run %d: %s", run, saved)
                        .allSatisfy(row -> assertSame(row, rows.get((int) row.sequence() - 1)));
            }
        }
    }

    @Test
    void recordsOfTheNewOutbox_canBeReadAsBefore() throws Exception {
        overwrite(rootPage("fact"));
        salvaged();
        try (OutboxFile outbox = OutboxFile.open(file)) {
            outbox.resend(outboxId, 1, MESSAGES);
            Row first = outbox.unreleased(0, 1).get(0);
            assertThat(Messages.read(first.payload(), CycleRecord.class).sequence()).isEqualTo(1);
        }
    }
}
