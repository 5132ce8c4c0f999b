package org.evenwash.logger.intake;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.networknt.schema.Error;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SchemaRegistryConfig;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import java.util.UUID;
import org.evenwash.logger.Heap;
import org.evenwash.logger.Mutations;
import org.evenwash.logger.TestDatabase;
import org.evenwash.logger.store.Database;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.BenchState;
import org.evenwash.record.LiveReading;
import org.evenwash.record.Message;
import org.evenwash.record.Messages;
import org.evenwash.record.Receipt;
import org.evenwash.record.Topics;
import org.jdbi.v3.core.Handle;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Payloads mutated from valid ones, through the intake's reading and writing: 1,000,000 with {@code mvn
 * -Pfuzz}, one per cent otherwise; on PostgreSQL a fifth of it. None may throw; what is stored must also be valid by the published
 * schema, which is another judge than the reader; all else is set aside and makes no other row.
 */
@Tag("fuzz")
class PayloadFuzzTest {
    private static final int FULL_SIZE = 1_000_000;

    /** It shares all but the writing with SQLite, and does not take what SQLite does. */
    private static final int ON_POSTGRESQL = 200_000;

    private static final int BATCH = 100;
    private static final long SEED = 61_125;
    private static final ObjectMapper JSON = new ObjectMapper();
    private static final long MOST_GROWTH_MB = 48;
    private static final Instant AT = Instant.parse("2031-05-20T12:00:00Z");
    private static final String BENCH = "bench-1";

    private final Map<Topics.Kind, Schema> schemas = schemas();
    private final Map<String, String> disagreements = new TreeMap<>();
    private int stored;
    private int refused;
    private int shown;

    @TempDir Path folder;

    @Test
    void noPayload_throws_orMakesARowThatTheContractForbids() {
        int full = TestDatabase.isPostgresql() ? ON_POSTGRESQL : FULL_SIZE;
        int size = (int) (full * (long) Integer.getInteger("evenwash.fuzz.percent", 1) / 100);
        long start_ns = System.nanoTime();
        long before_MB = 0;
        try (Database database = Database.open(TestDatabase.in(folder, "fuzz"))) {
            for (int first = 0; first < size; first += BATCH) {
                int from = first;
                database.read(
                        handle -> {
                            handle.begin();
                            batch(handle, from, Math.min(BATCH, size - from));
                            // Each batch meets an empty database, and the file stays small.
                            handle.rollback();
                            return null;
                        });
                if (first <= size / 4) {
                    before_MB = first + BATCH > size / 4 ? Heap.used_MB() : 0;
                }
            }
        }
        long growth_MB = Heap.used_MB() - before_MB;
        System.out.printf(
                Locale.ROOT,
                "payload fuzz: %d payloads from seed %d, %d stored, %d set aside, %d shown;"
                        + " heap grew by %d MB; %.0f s%n",
                size,
                SEED,
                stored,
                refused,
                shown,
                growth_MB,
                (System.nanoTime() - start_ns) * 1e-9);
        assertThat(disagreements).as("taken, and yet against the schema").isEmpty();
        assertThat(stored).as("valid ones got through").isPositive();
        assertThat(refused).isGreaterThan(size / 4);
        assertThat(growth_MB).isLessThan(MOST_GROWTH_MB);
    }

    private void batch(Handle handle, int from, int size) {
        int rows = 0;
        int aside = 0;
        for (int i = from; i < from + size; i++) {
            try {
                Outcome outcome = one(handle, new Random(SEED + i));
                if (outcome != null && outcome.result() == Receipt.Result.STORED) {
                    rows++;
                } else if (outcome != null && outcome.result() == Receipt.Result.SET_ASIDE) {
                    assertThat(outcome.reason()).isNotBlank();
                    aside++;
                }
            } catch (RuntimeException | AssertionError e) {
                throw new AssertionError("payload " + i + " of seed " + SEED, e);
            }
        }
        assertThat(count(handle, "cycle") + count(handle, "bench_event"))
                .as("rows of payloads %d to %d", from, from + size)
                .isEqualTo(rows);
        // The same bytes on the same topic are kept once.
        assertThat(count(handle, "set_aside")).isBetween(aside == 0 ? 0L : 1L, (long) aside);
        stored += rows;
        refused += aside;
    }

    private Outcome one(Handle handle, Random random) {
        Message valid = valid(random);
        Topics.Kind kind = kind(valid);
        byte[] bytes = Mutations.of(Messages.write(valid), random);
        String topic = random.nextInt(10) == 0 ? strange(random) : Topics.of(BENCH, kind);
        Reading reading = Reader.read(topic, new Payload(bytes));
        if (reading instanceof Reading.State || reading instanceof Reading.Live) {
            shown++;
            mustBeValid(kind, bytes);
            return null;
        }
        if (!(reading instanceof Reading.Unreadable)) {
            mustBeValid(kind, bytes);
        }
        return Ledger.write(handle, List.of(reading), AT).get(0);
    }

    private void mustBeValid(Topics.Kind kind, byte[] bytes) {
        String text = new String(bytes, StandardCharsets.UTF_8);
        try {
            JsonNode message = JSON.readTree(text);
            withoutNulls(message);
            for (Error error : schemas.get(kind).validate(message)) {
                disagreements.putIfAbsent(kind + " " + error.getMessage(), text);
            }
        } catch (JsonProcessingException e) {
            throw new AssertionError("read as a message, and no JSON: " + text, e);
        }
    }

    /** The reader takes a null for a field that was left out; the schema knows no null. */
    private static void withoutNulls(JsonNode node) {
        if (node instanceof ObjectNode object) {
            object.properties().removeIf(field -> field.getValue().isNull());
        }
        node.forEach(PayloadFuzzTest::withoutNulls);
    }

    private static Message valid(Random random) {
        UUID outbox = new UUID(1, random.nextInt(3));
        long sequence = 1L + random.nextInt(50);
        UUID id = new UUID(random.nextLong(), random.nextLong());
        return switch (random.nextInt(5)) {
            case 0, 1 -> Samples.cycle(BENCH, id, outbox, sequence);
            case 2 -> {
                BenchEvent.Kind[] kinds = BenchEvent.Kind.values();
                yield Samples.event(
                        BENCH, outbox, sequence, kinds[random.nextInt(kinds.length)], id);
            }
            case 3 ->
                    Samples.online(
                            BENCH,
                            List.of(),
                            new BenchState.OutboxState(outbox, sequence, sequence + 1));
            default -> Samples.live(BENCH, id);
        };
    }

    private static Topics.Kind kind(Message message) {
        if (message instanceof BenchEvent) {
            return Topics.Kind.EVENT;
        }
        if (message instanceof BenchState) {
            return Topics.Kind.STATE;
        }
        return message instanceof LiveReading ? Topics.Kind.LIVE : Topics.Kind.CYCLE;
    }

    private static String strange(Random random) {
        return switch (random.nextInt(4)) {
            case 0 -> "evenwash/v1/" + Mutations.text(random) + "/cycle";
            case 1 -> Topics.of(BENCH, Topics.Kind.TICKET);
            case 2 -> "evenwash/v2/" + BENCH + "/cycle";
            default -> Mutations.text(random);
        };
    }

    private static long count(Handle handle, String table) {
        return handle.createQuery("SELECT COUNT(*) FROM " + table).mapTo(Long.class).one();
    }

    private static Map<Topics.Kind, Schema> schemas() {
        SchemaRegistry registry =
                SchemaRegistry.withDefaultDialect(
                        SpecificationVersion.DRAFT_2020_12,
                        builder ->
                                builder.schemaRegistryConfig(
                                        SchemaRegistryConfig.builder()
                                                .formatAssertionsEnabled(true)
                                                .build()));
        Map<Topics.Kind, Schema> schemas = new EnumMap<>(Topics.Kind.class);
        for (Topics.Kind kind :
                List.of(
                        Topics.Kind.CYCLE,
                        Topics.Kind.EVENT,
                        Topics.Kind.STATE,
                        Topics.Kind.LIVE)) {
            String name =
                    "/org/evenwash/record/schema/" + kind.name().toLowerCase(Locale.ROOT) + ".json";
            try (InputStream file = Messages.class.getResourceAsStream(name)) {
                schemas.put(kind, registry.getSchema(file));
            } catch (IOException e) {
                throw new AssertionError("cannot read " + name, e);
            }
        }
        return schemas;
    }
}
