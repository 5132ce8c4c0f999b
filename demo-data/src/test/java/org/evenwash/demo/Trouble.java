package org.evenwash.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.TreeSet;
import org.awaitility.Awaitility;

/** A yard to which a plan's mishaps happen, and what was seen meanwhile. */
final class Trouble implements AutoCloseable {
    private static final Duration PATIENCE = Duration.ofSeconds(90);

    private final FaultPlan plan;
    private final Random random;
    private Disk benchDisk;
    private Disk loggerDisk;
    private Disk brokerDisk;
    private final Yard yard;
    private final BenchHand hand;
    private final Set<String> started = new TreeSet<>();
    private final Salvaged salvaged = new Salvaged();
    private int controllersKilled;
    private Connection locked;
    private boolean benchAtWork = true;

    Trouble(FaultPlan plan, Path folder) throws IOException {
        this.plan = plan;
        this.random = new Random(plan.seed() + 1);
        if (plan.needs(Mishap.Where.LOGGER_CLOCK)) {
            Files.writeString(folder.resolve("logger-clock"), "0");
        }
        this.yard = new Yard(folder, plan.setUp(), "twenty-seconds");
        this.hand = new BenchHand(yard);
    }

    /** Here and not when it is made: whatever goes wrong from now on, {@link #close} comes after it. */
    private void mountDisks() throws IOException {
        benchDisk = disk(Mishap.Where.BENCH_DISK, Mishap.Where.BENCH_CARD, yard.benchFolder());
        loggerDisk = disk(Mishap.Where.LOGGER_DISK, Mishap.Where.LOGGER_CARD, yard.loggerFolder());
        if (plan.needs(Mishap.Where.BROKER_DISK)) {
            brokerDisk = Disk.over(yard.brokerFolder());
        }
    }

    private Disk disk(Mishap.Where disk, Mishap.Where card, Path folder) throws IOException {
        if (plan.needs(card)) {
            return Card.over(folder);
        }
        return plan.needs(disk) ? Disk.over(folder) : null;
    }

    /** All that the plan holds, and then a day without mishaps. */
    void happen() throws IOException {
        mountDisks();
        yard.open();
        startController();
        for (FaultPlan.Step step : plan.steps()) {
            hand.work(Duration.ofMillis(step.calm_ms()));
            step.mishap().begin(this);
            Duration lasts = Duration.ofMillis(step.lasts_ms());
            if (benchAtWork) {
                hand.work(lasts);
            } else {
                BenchHand.pass(lasts);
            }
            step.mishap().end(this);
        }
        yard.startLoggerIfItsBrokerStopped();
        hand.oneWholeWash(PATIENCE);
        noteStarted();
    }

    Yard yard() {
        return yard;
    }

    Disk benchDisk() {
        return benchDisk;
    }

    Disk loggerDisk() {
        return loggerDisk;
    }

    Disk brokerDisk() {
        return brokerDisk;
    }

    /** Ids of all cycles whose start marker was durable at some time. */
    Set<String> started() {
        return started;
    }

    BenchHand hand() {
        return hand;
    }

    /** What a damaged outbox took with it, as the controller named it. */
    Salvaged salvaged() {
        return salvaged;
    }

    int controllersKilled() {
        return controllersKilled;
    }

    private void noteStarted() {
        started.addAll(Judge.cyclesIn(yard.outbox()));
    }

    void killController() {
        yard.killController();
        controllersKilled++;
        benchAtWork = false;
        noteStarted();
    }

    void startController() {
        yard.startController();
        benchAtWork = true;
    }

    void killLogger() {
        yard.killLogger();
    }

    void startLogger() {
        yard.startLogger();
    }

    void killBroker() {
        yard.killBroker();
    }

    void startBroker() {
        try {
            yard.startBroker();
        } catch (IOException e) {
            throw new UncheckedIOException("the broker cannot be started", e);
        }
    }

    /** Its broker may have stopped of an earlier mishap only a moment ago. */
    void freezeLogger() {
        yard.startLoggerIfItsBrokerStopped();
        yard.logger().freeze();
    }

    void freezeController() {
        yard.controller().freeze();
        benchAtWork = false;
    }

    void thawController() {
        yard.controller().thaw();
        benchAtWork = true;
    }

    void stepBenchClock(int by_s) {
        yard.controller().say("clock " + by_s).await("> clock");
    }

    void stepLoggerClock(int by_s) {
        try {
            Path next = Files.writeString(yard.folder().resolve("next-clock"), "" + by_s);
            Files.move(next, yard.loggerClock(), StandardCopyOption.ATOMIC_MOVE);
        } catch (IOException e) {
            throw new UncheckedIOException("the logger's clock cannot be stepped", e);
        }
    }

    /** Its pages know sessions, attempts and pictures that grow old. */
    void loggerServesPages() {
        yard.startLoggerIfItsBrokerStopped();
        for (String page : List.of("/", "/cycles")) {
            assertThat(yard.statusOf(page)).as(page).isEqualTo(200);
        }
        // The line to the broker may still be coming back from an earlier mishap.
        Awaitility.await("good health")
                .atMost(PATIENCE)
                .untilAsserted(() -> assertThat(yard.statusOf("/health")).isEqualTo(200));
    }

    /** As a backup program or a curious person with a database tool would. */
    void lock(Path database) {
        try {
            locked = DriverManager.getConnection("jdbc:sqlite:" + database);
            try (Statement statement = locked.createStatement()) {
                statement.execute("PRAGMA busy_timeout = 20000");
                statement.execute("BEGIN EXCLUSIVE");
            }
        } catch (SQLException e) {
            throw new AssertionError("cannot lock " + database, e);
        }
    }

    void unlock() {
        try {
            locked.close();
        } catch (SQLException e) {
            throw new AssertionError("cannot let go of a database", e);
        }
    }

    void benchReadOnly() {
        killController();
        benchDisk.readOnly();
        if (yard.controllerStarts()) {
            throw new AssertionError("the controller runs on a read-only disk");
        }
        Refusal.plain(
                yard.controller(), yard.benchFolder(), "let the controller's user write to it");
    }

    void benchWritableAgain() {
        benchDisk.roomy();
        startController();
    }

    void loggerRoomyAgain() {
        loggerDisk.roomy();
        yard.startLoggerIfItsBrokerStopped();
    }

    void loggerReadOnly() {
        killLogger();
        loggerDisk.readOnly();
        if (yard.loggerStarts()) {
            throw new AssertionError("the logger runs on a read-only disk");
        }
        Refusal.plain(yard.logger(), yard.loggerFolder(), "write");
    }

    void loggerWritableAgain() {
        loggerDisk.roomy();
        startLogger();
    }

    /** The bench goes on without being able to write. */
    void failBenchCard() {
        ((Card) benchDisk).fail();
    }

    /** With the plug pulled, as whoever looks after it would. What was synced counts as begun, nothing else. */
    void repairBenchCard() {
        yard.killController();
        controllersKilled++;
        ((Card) benchDisk).repair();
        noteStarted();
        startController();
    }

    void failLoggerCard() {
        ((Card) loggerDisk).fail();
    }

    void repairLoggerCard() {
        killLogger();
        ((Card) loggerDisk).repair();
        startLogger();
    }

    /** Refused untouched, with one sentence; a person then does what it says, or puts a good copy back. */
    void damageOutbox() {
        killController();
        DatabaseFile file = new DatabaseFile(yard.outbox());
        file.keepCopy();
        file.damage(random);
        if (yard.controllerStarts()) {
            benchAtWork = true; // the damage met nothing that is in use
            return;
        }
        Refusal.plain(yard.controller(), yard.outbox(), "salvage", "move the file away");
        file.mustBeAsDamaged();
        // Without its first bytes nothing tells an outbox from another program's file.
        boolean advised = yard.controller().all().contains("salvage");
        if (advised && random.nextInt(3) > 0) {
            String said = yard.controllerCommand("salvage").all();
            salvaged.note(said, file.copy(), yard.outbox());
        } else {
            file.putBack();
        }
        startController();
    }

    /** Refused with one sentence; a person then does what it says: restores the backup. */
    void damageDatabase() {
        Path backup = yard.folder().resolve("backup-" + random.nextInt() + ".db");
        yard.loggerCommand("backup", backup.toString());
        hand.work(Duration.ofMillis(1_500));
        killLogger();
        DatabaseFile file = new DatabaseFile(yard.database());
        file.damage(random);
        if (yard.loggerStarts()) {
            return;
        }
        Refusal.plain(yard.logger(), null, "evenwash-logger restore");
        yard.loggerCommand("restore", backup.toString());
        startLogger();
    }

    @Override
    public void close() throws IOException {
        try {
            if (locked != null) {
                unlock();
            }
        } finally {
            try {
                yard.close();
            } finally {
                // Last: nothing may still write to a disk that goes.
                try {
                    close(brokerDisk);
                } finally {
                    try {
                        close(loggerDisk);
                    } finally {
                        close(benchDisk);
                    }
                }
            }
        }
    }

    private static void close(Disk disk) {
        if (disk != null) {
            disk.close();
        }
    }
}
