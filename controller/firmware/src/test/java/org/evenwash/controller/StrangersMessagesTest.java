package org.evenwash.controller;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.lang.management.ManagementFactory;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.UUID;
import java.util.regex.Pattern;
import org.evenwash.controller.SimulatedController.Play;
import org.evenwash.controller.config.Configuration;
import org.evenwash.controller.config.ConfigurationFile;
import org.evenwash.controller.config.RecipeSheets;
import org.evenwash.controller.panel.PanelText;
import org.evenwash.controller.port.Unsent;
import org.evenwash.controller.process.Choice;
import org.evenwash.controller.process.Command;
import org.evenwash.controller.process.State;
import org.evenwash.controller.process.Status;
import org.evenwash.record.BenchCommand;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.BenchState;
import org.evenwash.record.BenchState.LoadedTicket;
import org.evenwash.record.Message;
import org.evenwash.record.Messages;
import org.evenwash.record.Pass;
import org.evenwash.record.Receipt;
import org.evenwash.record.RecipeSheet;
import org.evenwash.record.Ticket;
import org.evenwash.record.Topics;
import org.evenwash.record.UnreadableMessage;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a logger, or whoever has its password, may write: handed in where the link leaves it, in a whole controller. */
class StrangersMessagesTest {
    private static final String BENCH = "bench-1";
    private static final Duration SOON = Duration.ofSeconds(60);
    private static final String FORGED =
            "H1\n[INFO] Mailroom - Ticket forged\u001b[2J\u009b2J\u2028[INFO] Mailroom - and again";

    /** Of the log or the panel. */
    private static final Pattern MORE_THAN_A_LINE = Pattern.compile("[\\p{Cc}\\p{Zl}\\p{Zp}]");

    private static final Pattern OF_THE_LOG = Pattern.compile("\\[(INFO|WARN)] \\w+ - .+");

    private static final long SEED = 7_212;
    private static final int IN_VERIFY = 20_000;
    private static final int FULL_SIZE = 1_000_000;
    private static final int BATCH = 250;
    private static final long MOST_GROWTH_MB = 8;
    private static final ObjectMapper JSON = new ObjectMapper();

    private final PrintStream standardError = System.err;
    private final ByteArrayOutputStream log = new ByteArrayOutputStream();
    private final Set<State> states = EnumSet.noneOf(State.class);
    private double fastest_rpm;
    private SimulatedController bench;
    private RecipeSheet recipe;

    @BeforeEach
    void start(@TempDir Path folder) throws Exception {
        System.setErr(new PrintStream(log, true, StandardCharsets.UTF_8));
        Configuration settings =
                ConfigurationFile.read(
                        "test",
                        """
                        bench: { dataFolder: data, recipe: twenty-seconds }
                        broker: { host: 127.0.0.1, port: 1 }
                        """,
                        folder);
        recipe = RecipeSheets.sheet(settings.recipe());
        bench = SimulatedController.start(settings, Play.faster(20), this::watch);
        bench.choose(Choice.ACKNOWLEDGE_CAUTIONS);
        assertThat(bench.await(now -> now.againstStart().isEmpty(), SOON)).isTrue();
    }

    @AfterEach
    void stop() {
        bench.close();
        System.setErr(standardError);
    }

    private synchronized void watch(Status now) {
        states.add(now.state());
        fastest_rpm = Math.max(fastest_rpm, now.setpoint_rpm());
    }

    @Test
    void namesThatCarryALineOfTheirOwn_stayInTheLineTheyBelongTo() throws Exception {
        RecipeSheet named =
                RecipeSheet.of(
                        "twenty-seconds",
                        FORGED,
                        1,
                        recipe.bouts(),
                        recipe.repeats(),
                        recipe.tolerances(),
                        recipe.longestHold_s());
        hand(
                Topics.Kind.TICKET,
                Messages.write(ticket(Ticket.Action.LOAD, UUID.randomUUID(), 1, FORGED, named)));
        hand(Topics.Kind.COMMAND, "{\"schema\":\"\u009b2J\u2028[INFO] forged\"}");

        assertThat(bench.await(now -> named.name().equals(now.recipe().name()), SOON)).isTrue();
        assertThat(linesOfTheLog())
                .allMatch(line -> OF_THE_LOG.matcher(line).matches())
                .noneMatch(line -> MORE_THAN_A_LINE.matcher(line).find())
                .anyMatch(line -> line.contains("Position 1: H1?[INFO] Mailroom - Ticket forged?"))
                .anyMatch(line -> line.contains("could not be read and is ignored: schema reads"));
        assertThat(
                        PanelText.lines(
                                bench.status(), bench.controller().desk().words(false), "", false))
                .noneMatch(line -> MORE_THAN_A_LINE.matcher(line).find())
                .anyMatch(line -> line.startsWith("Recipe    H1?[INFO]"))
                .anyMatch(line -> line.startsWith("Ticket    position 1: H1?[INFO]"));
        assertThat(bench.tickets()).extracting(LoadedTicket::colony).containsExactly(FORGED);
    }

    /**
     * 1,000,000 with {@code mvn -Pfuzz}, else a fiftieth. A seed's messages are the same each time; what the bench
     * answers hangs on when its outbox has stored what.
     */
    @Test
    @Tag("fuzz")
    void messagesMadeWrong_startNothing_breakNothing_andLeaveNothingBehind() throws Exception {
        int size =
                Math.max(
                        IN_VERIFY,
                        FULL_SIZE / 100 * Integer.getInteger("evenwash.fuzz.percent", 1));
        Random random = new Random(SEED);
        Map<Topics.Kind, Integer> read = new EnumMap<>(Topics.Kind.class);
        int refused = 0;
        int taken = 0;
        long start_ns = System.nanoTime();
        long before_MB = 0;
        for (int i = 0; i < size; i++) {
            Message valid = valid(random);
            Topics.Kind kind = kind(valid);
            byte[] payload = mutated(Messages.write(valid), random);
            try {
                Messages.read(payload, valid.getClass());
                read.merge(kind, 1, Integer::sum);
            } catch (UnreadableMessage e) {
                refused++;
            }
            hand(random.nextInt(50) == 0 ? any(random) : kind, payload);
            if (i % BATCH == BATCH - 1) {
                await().pollDelay(Duration.ZERO)
                        .pollInterval(Duration.ofMillis(5))
                        .atMost(SOON)
                        .until(() -> bench.controller().outbox().waiting() == 0);
                taken += bench.tickets().size();
                List<String> lines = linesOfTheLog();
                assertThat(lines)
                        .as("log of messages up to %d of seed %d", i, SEED)
                        .isNotEmpty()
                        .allMatch(line -> OF_THE_LOG.matcher(line).matches())
                        .noneMatch(line -> MORE_THAN_A_LINE.matcher(line).find());
                // What strangers wrote is told again with the bench's state; it must be readable.
                Messages.read(Messages.write(bench.controller().told()), BenchState.class);
            }
            if (i == size / 4) {
                before_MB = heap_MB();
            }
        }
        long growth_MB = heap_MB() - before_MB;
        System.out.printf(
                "strangers' messages: %d from seed %d, read %s, refused %d; heap grew by %d MB; %.0f s%n",
                size, SEED, read, refused, growth_MB, (System.nanoTime() - start_ns) * 1e-9);

        synchronized (this) {
            assertThat(states).containsExactly(State.IDLE);
            assertThat(fastest_rpm).isZero();
        }
        assertThat(read).as("of each kind").hasSize(3);
        assertThat(read.values()).allMatch(count -> count > size / 50);
        assertThat(refused).isGreaterThan(size / 5);
        assertThat(taken).as("tickets lay on the desk at times").isPositive();
        assertThat(growth_MB).isLessThan(MOST_GROWTH_MB);
        handStarts();
    }

    /** It was ready all the time. */
    private void handStarts() {
        for (LoadedTicket there : bench.tickets()) {
            Ticket gone =
                    ticket(Ticket.Action.WITHDRAW, there.ticketId(), there.position(), null, null);
            hand(Topics.Kind.TICKET, Messages.write(gone));
        }
        bench.choose(Choice.ACKNOWLEDGE_CAUTIONS);
        assertThat(bench.await(now -> now.againstStart().isEmpty(), SOON)).isTrue();
        bench.press(Command.START);
        assertThat(bench.await(State.RUNNING, SOON)).isTrue();
    }

    private void hand(Topics.Kind kind, byte[] payload) {
        bench.controller().mailroom().received(kind, payload);
    }

    private void hand(Topics.Kind kind, String payload) {
        hand(kind, payload.getBytes(StandardCharsets.UTF_8));
    }

    /** Since it was last asked; as a terminal splits them, which knows nothing of U+2028. */
    private List<String> linesOfTheLog() {
        synchronized (log) {
            List<String> lines = List.of(log.toString(StandardCharsets.UTF_8).split("\n"));
            log.reset();
            return lines;
        }
    }

    private static long heap_MB() {
        System.gc();
        System.gc();
        return ManagementFactory.getMemoryMXBean().getHeapMemoryUsage().getUsed() >> 20;
    }

    private static Topics.Kind any(Random random) {
        return one(List.of(Topics.Kind.values()), random);
    }

    private static <T> T one(List<T> of, Random random) {
        return of.get(random.nextInt(of.size()));
    }

    private static Topics.Kind kind(Message message) {
        return message instanceof Ticket
                ? Topics.Kind.TICKET
                : message instanceof Receipt ? Topics.Kind.RECEIPT : Topics.Kind.COMMAND;
    }

    private Message valid(Random random) throws UnreadableMessage {
        return switch (random.nextInt(3)) {
            case 0 -> {
                // So few that some are withdrawn again.
                UUID id = new UUID(4 << 12, Long.MIN_VALUE + random.nextInt(4));
                Ticket.Action action =
                        random.nextBoolean() ? Ticket.Action.LOAD : Ticket.Action.WITHDRAW;
                yield ticket(action, id, 1, "Linden 3", recipe);
            }
            case 1 -> receipt(random);
            default -> command(random);
        };
    }

    private static Ticket ticket(
            Ticket.Action action, UUID id, int position, String colony, RecipeSheet recipe) {
        return new Ticket(
                Ticket.SCHEMA,
                id,
                BENCH,
                Instant.now(),
                action,
                position,
                id,
                Pass.FIRST,
                colony,
                "A. Keeper",
                recipe,
                new Ticket.Spirit("ethanol", 70.0, 16.0));
    }

    /** Every other one is for a message that waits, so that the outbox empties as it fills. */
    private Receipt receipt(Random random) throws UnreadableMessage {
        List<Unsent.Letter> waiting =
                random.nextBoolean() ? bench.controller().outbox().after(0, 1) : List.of();
        byte[] payload = waiting.isEmpty() ? new byte[0] : waiting.get(0).payload();
        UUID id =
                waiting.isEmpty()
                        ? new UUID(random.nextLong(), random.nextLong())
                        : Messages.read(payload, BenchEvent.class).eventId();
        return new Receipt(
                Receipt.SCHEMA, id, Messages.sha256(payload), Receipt.Result.STORED, null);
    }

    private BenchCommand command(Random random) {
        BenchCommand.Action action = one(List.of(BenchCommand.Action.values()), random);
        return new BenchCommand(
                BenchCommand.SCHEMA,
                new UUID(random.nextLong(), random.nextLong()),
                BENCH,
                Instant.now(),
                action,
                new UUID(random.nextLong(), random.nextLong()),
                new BenchCommand.Resend(bench.outboxId(), 1, 1 + random.nextInt(20)));
    }

    private static final List<String> VALUES =
            List.of(
                    "null",
                    "true",
                    "{}",
                    "[]",
                    "0",
                    "-1",
                    "2",
                    "0.5",
                    "1e400",
                    "9223372036854775807",
                    "123456789012345678901234567890",
                    "\"\"",
                    "\"start\"",
                    "\"restart\"",
                    "\"START\"",
                    "\"bench-2\"",
                    "\"command/1.1\"",
                    "\"ticket/2.0\"",
                    "\"\\u0000\"",
                    "\"\\ud800\"",
                    "\"\\u202e\\u2028\\u0085\"",
                    "\"\\r\\n[INFO] Mailroom - forged\\u001b[2J\"",
                    "\"%s%n${jndi:ldap://x}{}\"",
                    "\"1-1-1-1-1\"",
                    "\"+999999999-12-31T23:59:59Z\"",
                    "\"2031-06-01T09:00:00Z\"",
                    "\"" + "🐝".repeat(999) + "x\"",
                    "\"" + "x".repeat(2_001) + "\"",
                    "[".repeat(300) + "]".repeat(300));

    /** Mostly one to three values exchanged, at times the bytes; every eighth is left alone. */
    private static byte[] mutated(byte[] valid, Random random) throws IOException {
        if (random.nextInt(8) == 0) {
            return valid;
        }
        byte[] bytes = valid;
        if (random.nextInt(4) > 0) {
            JsonNode root = JSON.readTree(valid);
            for (int times = 1 + random.nextInt(3); times > 0; times--) {
                exchange(root, random);
            }
            bytes = JSON.writeValueAsBytes(root);
        }
        return random.nextInt(3) == 0 ? bytesMadeWrong(bytes, random) : bytes;
    }

    private static void exchange(JsonNode root, Random random) throws IOException {
        List<JsonNode> places = new ArrayList<>();
        collect(root, places);
        JsonNode place = places.get(random.nextInt(places.size()));
        JsonNode value = JSON.readTree(VALUES.get(random.nextInt(VALUES.size())));
        if (place instanceof ArrayNode list) {
            list.add(value);
        } else if (place instanceof ObjectNode object && !object.isEmpty()) {
            List<String> names = new ArrayList<>();
            object.fieldNames().forEachRemaining(names::add);
            String name = names.get(random.nextInt(names.size()));
            switch (random.nextInt(5)) {
                case 0 -> object.remove(name);
                case 1 -> object.set("\n" + name, object.remove(name));
                default -> object.set(name, value);
            }
        }
    }

    private static void collect(JsonNode node, List<JsonNode> into) {
        if (node.isContainerNode()) {
            into.add(node);
            node.forEach(child -> collect(child, into));
        }
    }

    private static byte[] bytesMadeWrong(byte[] message, Random random) {
        int at = random.nextInt(message.length);
        byte[] changed = message.clone();
        switch (random.nextInt(5)) {
            case 0 -> changed = Arrays.copyOf(message, at);
            case 1 -> changed[at] ^= (byte) (1 << random.nextInt(8));
            case 2 -> changed[at] = (byte) random.nextInt(256);
            case 3 ->
                    changed =
                            new String(message, StandardCharsets.UTF_8)
                                    .getBytes(StandardCharsets.UTF_16);
            default -> changed = Arrays.copyOf(message, Messages.MOST_BYTES + random.nextInt(2));
        }
        return changed;
    }
}
