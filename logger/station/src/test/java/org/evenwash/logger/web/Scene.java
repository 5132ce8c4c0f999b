package org.evenwash.logger.web;

import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.atomic.AtomicLong;
import org.evenwash.logger.TestDatabase;
import org.evenwash.logger.access.FrontDoor;
import org.evenwash.logger.intake.BenchBoard;
import org.evenwash.logger.secret.PersonPassword;
import org.evenwash.logger.secret.RandomSecret;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Benches;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.Cycles;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.DayPlan;
import org.evenwash.logger.store.Frame;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.logger.store.Operator;
import org.evenwash.logger.store.OutboxNumbers;
import org.evenwash.logger.store.QueenCheck;
import org.evenwash.logger.store.Role;
import org.evenwash.logger.store.SetAside;
import org.evenwash.logger.store.SetAsides;
import org.evenwash.logger.store.SpiritBatch;
import org.evenwash.logger.store.Wash;
import org.evenwash.logger.wash.BenchLink;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.DayPlanner;
import org.evenwash.logger.wash.NewWash;
import org.evenwash.logger.wash.SpiritShelf;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.record.BenchCommand;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Messages;
import org.evenwash.record.Pass;
import org.evenwash.record.Ticket;

/** A logger with a real SQLite file and a server on a free port, and an invented yard to look at. */
final class Scene implements AutoCloseable {
    static final String BENCH = "shed-1";
    static final Instant NOON = Instant.parse("2031-05-20T12:00:00Z");

    static final String PASSWORD = "three jars of heather";

    /** bcrypt's smallest: a test of who may do what hashes hundreds of times. */
    private static final int CHEAP = 4;

    final Database database;
    final Link link = new Link();
    final BenchBoard board = new BenchBoard();
    final AtomicLong freeRoom_B = new AtomicLong(Long.MAX_VALUE);
    final Workplace place;
    final Surroundings around;
    final Doors doors;
    final WebServer server;

    /** Remembers what would have gone to the bench. */
    static final class Link implements BenchLink {
        final List<Ticket> tickets = new ArrayList<>();
        final List<BenchCommand> commands = new ArrayList<>();

        @Override
        public void send(Ticket ticket) {
            tickets.add(ticket);
        }

        @Override
        public boolean send(BenchCommand command) {
            commands.add(command);
            return true;
        }
    }

    Operator ada;
    Operator brook;
    Colony alder;
    Colony birch;
    SpiritBatch batch;
    Wash counted;
    Wash fresh;
    CycleRecord tied;
    CycleRecord loose;
    DayPlan day;
    UUID line;

    /** Files of old records: just brought in, looked through, imported. */
    List<UUID> old;

    private Scene(Path folder, boolean demonstration, Clock clock) {
        database = Database.open(TestDatabase.in(folder, "logger"));
        if (demonstration) {
            database.becomeDemonstration();
        }
        place = Workplace.over(database, link, Clock.fixed(NOON, ZoneOffset.UTC));
        around = Surroundings.of(database, clock, new PersonPassword(CHEAP), freeRoom_B::get);
        doors = around.doors();
        server = WebServer.start(database, place, board, WebSettings.loopback(0), around);
    }

    static Scene empty(Path folder) {
        return new Scene(folder, false, Clock.systemUTC());
    }

    /** Two apiaries, washes in every stage, a running bench, a loose cycle, a message set aside. */
    static Scene populated(Path folder) {
        return populated(folder, Clock.systemUTC());
    }

    /**
     * @param clock of sessions and lock-outs
     */
    static Scene populated(Path folder, Clock clock) {
        Scene scene = new Scene(folder, true, clock);
        scene.people();
        scene.bench();
        scene.washes();
        scene.old = OldFiles.in(scene.database, scene.place.clock());
        return scene;
    }

    /** Ada keeps, Brook reviews, Cleo is an operator; from here on everybody has to sign in. */
    void passwords() {
        doors.accounts.first("ada", "Ada", PASSWORD);
        doors.accounts.add("brook", "Brook", Role.REVIEWER, PASSWORD);
        doors.accounts.add("cleo", "Cleo", Role.OPERATOR, PASSWORD);
    }

    /** The secret of a new session, from an address that nobody else has. */
    String session(String name) {
        var outcome = doors.front.signIn(name, PASSWORD, "session " + RandomSecret.make());
        return ((FrontDoor.Outcome.SignedIn) outcome).secret();
    }

    /** The secret of a token that the account made of itself. */
    String token(String maker, String name, Role role, int days) {
        return doors.tokens.make(session(maker), name, role, days).secret();
    }

    private void people() {
        By by = By.nobody();
        ada = place.yard().addOperator("Ada", by);
        brook = place.yard().addOperator("Brook", by);
        var hollow = place.yard().addApiary("Hollow Lane", "Etc/UTC", Hemisphere.NORTHERN, by);
        var ridge = place.yard().addApiary("South Ridge", "Etc/GMT-10", Hemisphere.SOUTHERN, by);
        alder = place.yard().addColony(hollow.id(), "Alder", by);
        birch = place.yard().addColony(hollow.id(), "Birch", by);
        place.yard().addColony(hollow.id(), "Cherry", by);
        place.yard().addColony(ridge.id(), "Dogwood", by);
        batch =
                place.spirit()
                        .addBatch(
                                new SpiritShelf.NewBatch(
                                        "May mix",
                                        "methylated spirit",
                                        48.5,
                                        24.3,
                                        2_000.0,
                                        LocalDate.of(2031, 5, 12),
                                        null,
                                        ""),
                                by);
    }

    private void bench() {
        database.change(handle -> Benches.seen(handle, BENCH, true, NOON));
        place.recipes().add(Cycles3.RECIPE, null, By.nobody());
        database.change(
                handle ->
                        SetAsides.insert(
                                handle,
                                new SetAside(
                                        UUID.randomUUID(),
                                        NOON,
                                        "evenwash/v1/shed-1/cycle",
                                        BENCH,
                                        null,
                                        "agitation_s is -4.0, expected 0 to 14400",
                                        Messages.sha256(new byte[] {1}),
                                        412,
                                        null,
                                        null),
                                new byte[] {1}));
    }

    private void washes() {
        counted = wash(alder, LocalDate.of(2031, 5, 18));
        tied = Cycles3.complete(1, NOON.minusSeconds(5_000), counted.id());
        store(tied);
        place.cycles().attach(tied.cycleId(), 1, counted.id(), Pass.FIRST, By.nobody());
        place.washes().enterPass(counted.id(), Pass.FIRST, batch.id(), null, By.nobody());
        enter(counted, 312, 9);
        place.counting().recount(counted.id(), Pass.FIRST, 10, brook.id(), true, By.nobody());
        Wash none = wash(birch, LocalDate.of(2031, 5, 19));
        enter(none, 300, 0);
        Wash low = wash(birch, LocalDate.of(2031, 5, 11));
        enter(low, 300, 2);
        CycleRecord cut = Cycles3.interrupted(2, NOON.minusSeconds(4_000));
        store(cut);
        place.cycles().attach(cut.cycleId(), 1, low.id(), Pass.FIRST, By.nobody());
        fresh = wash(alder, LocalDate.of(2031, 5, 20));
        loose = Cycles3.complete(5, NOON.minusSeconds(600), null);
        store(loose);
        database.change(handle -> Cycles.leaveUnassigned(handle, loose.cycleId(), 1, Pass.FIRST));
    }

    /** A work list of two colonies, drawn; made on request, since it adds washes. */
    void planADay() {
        day =
                place.days()
                        .plan(
                                new DayPlanner.NewDay(
                                        alder.apiaryId(),
                                        LocalDate.of(2031, 5, 20),
                                        List.of(),
                                        2,
                                        7,
                                        ada.id()),
                                By.nobody());
    }

    /** Calibration work and recounts; made on request, since it adds washes. */
    void calibrate() {
        line = new CalibrationScene(this).set();
    }

    private Wash wash(Colony colony, LocalDate day) {
        return place.washes()
                .plan(
                        new NewWash(
                                colony.id(),
                                day,
                                ada.id(),
                                Frame.BROOD_NEST,
                                QueenCheck.SEEN_ELSEWHERE,
                                "",
                                false),
                        By.operator(ada.id()));
    }

    private void enter(Wash wash, double bees, int mites) {
        By by = By.operator(ada.id());
        place.washes()
                .enterBees(
                        wash.id(),
                        wash.version(),
                        BeeMeasure.COUNTED,
                        bees,
                        null,
                        ada.id(),
                        "",
                        by);
        place.counting().enter(wash.id(), Pass.FIRST, mites, ada.id(), by);
    }

    private void store(CycleRecord record) {
        String hash = Messages.sha256(Messages.write(record));
        database.change(
                handle -> {
                    Cycles.insert(handle, record, hash, false, NOON);
                    OutboxNumbers.note(
                            handle, BENCH, record.outboxId(), record.sequence(), record.cycleId());
                });
    }

    /** Another record of the same number, as from a copied card. */
    void again(String bench, long sequence) {
        CycleRecord copy = Cycles3.copied(bench, sequence, NOON.minusSeconds(300));
        String hash = Messages.sha256(Messages.write(copy));
        database.change(
                handle -> {
                    Cycles.insert(handle, copy, hash, true, NOON);
                    OutboxNumbers.note(
                            handle, bench, copy.outboxId(), copy.sequence(), copy.cycleId());
                });
    }

    String address(String path) {
        return server.address() + path;
    }

    @Override
    public void close() {
        server.close();
        database.close();
    }
}
