package org.evenwash.demo;

import java.util.Set;
import java.util.function.Consumer;
import java.util.function.Predicate;
import org.evenwash.demo.Proxy.Condition;

/** What can go wrong at a yard, how it begins and how it ends. */
@SuppressWarnings("ImmutableEnumChecker") // All are method references without state.
enum Mishap {
    CONTROLLER_KILLED(Trouble::killController, Trouble::startController),
    LOGGER_KILLED(Trouble::killLogger, Trouble::startLogger),
    BROKER_KILLED(SetUp::mosquitto, Trouble::killBroker, Trouble::startBroker),
    CONTROLLER_FROZEN(Trouble::freezeController, Trouble::thawController),
    LOGGER_FROZEN(Trouble::freezeLogger, t -> t.yard().logger().thaw()),
    BROKER_FROZEN(SetUp::mosquitto, t -> t.yard().broker().freeze(), t -> t.yard().broker().thaw()),
    BENCH_LINE_CUT(
            t -> t.yard().benchLine().become(Condition.CUT),
            t -> t.yard().benchLine().become(Condition.OPEN)),
    BENCH_LINE_SILENT(
            t -> t.yard().benchLine().become(Condition.SILENT),
            t -> t.yard().benchLine().become(Condition.OPEN)),
    BENCH_LINE_SLOW(
            t -> t.yard().benchLine().become(Condition.SLOW),
            t -> t.yard().benchLine().become(Condition.OPEN)),
    LOGGER_LINE_CUT(
            SetUp::mosquitto,
            t -> t.yard().loggerLine().become(Condition.CUT),
            t -> t.yard().loggerLine().become(Condition.OPEN)),
    LOGGER_LINE_SILENT(
            SetUp::mosquitto,
            t -> t.yard().loggerLine().become(Condition.SILENT),
            t -> t.yard().loggerLine().become(Condition.OPEN)),
    LOGGER_LINE_SLOW(
            SetUp::mosquitto,
            t -> t.yard().loggerLine().become(Condition.SLOW),
            t -> t.yard().loggerLine().become(Condition.OPEN)),
    BENCH_DISK_FULL(Where.BENCH_DISK, t -> t.benchDisk().full(), t -> t.benchDisk().roomy()),
    BENCH_DISK_READ_ONLY(Where.BENCH_DISK, Trouble::benchReadOnly, Trouble::benchWritableAgain),
    LOGGER_DISK_FULL(Where.LOGGER_DISK, t -> t.loggerDisk().full(), Trouble::loggerRoomyAgain),
    LOGGER_DISK_READ_ONLY(Where.LOGGER_DISK, Trouble::loggerReadOnly, Trouble::loggerWritableAgain),
    BROKER_DISK_FULL(
            SetUp::mosquitto,
            Where.BROKER_DISK,
            3_000,
            t -> t.brokerDisk().full(),
            t -> t.brokerDisk().roomy()),
    BENCH_CARD_FAILS(Where.BENCH_CARD, Trouble::failBenchCard, Trouble::repairBenchCard),
    LOGGER_CARD_FAILS(Where.LOGGER_CARD, Trouble::failLoggerCard, Trouble::repairLoggerCard),
    BENCH_CLOCK_BACK(t -> t.stepBenchClock(-86_400), t -> {}),
    BENCH_CLOCK_FORWARD(t -> t.stepBenchClock(3_600), t -> {}),
    LOGGER_CLOCK_BACK(
            Where.LOGGER_CLOCK, t -> t.stepLoggerClock(-86_400), Trouble::loggerServesPages),
    LOGGER_CLOCK_FORWARD(
            Where.LOGGER_CLOCK, t -> t.stepLoggerClock(86_400), Trouble::loggerServesPages),
    OUTBOX_LOCKED(6_000, t -> t.lock(t.yard().outbox()), Trouble::unlock),
    DATABASE_LOCKED(18_000, t -> t.lock(t.yard().database()), Trouble::unlock),
    OUTBOX_DAMAGED(Trouble::damageOutbox, t -> {}),
    DATABASE_DAMAGED(Trouble::damageDatabase, t -> {});

    /** What must be prepared before the yard starts. */
    enum Where {
        ANYWHERE,
        BENCH_DISK,
        LOGGER_DISK,
        BROKER_DISK,
        BENCH_CARD,
        LOGGER_CARD,
        LOGGER_CLOCK;

        static final Set<Where> CARDS = Set.of(BENCH_CARD, LOGGER_CARD);
        static final Set<Where> DISKS =
                Set.of(BENCH_DISK, LOGGER_DISK, BROKER_DISK, BENCH_CARD, LOGGER_CARD);
    }

    private static final int LONGEST_MS = 3_000;

    private final Predicate<SetUp> fits;
    private final Where where;
    private final int longest_ms;
    private final Consumer<Trouble> begin;
    private final Consumer<Trouble> end;

    Mishap(
            Predicate<SetUp> fits,
            Where where,
            int longest_ms,
            Consumer<Trouble> begin,
            Consumer<Trouble> end) {
        this.fits = fits;
        this.where = where;
        this.longest_ms = longest_ms;
        this.begin = begin;
        this.end = end;
    }

    Mishap(Consumer<Trouble> begin, Consumer<Trouble> end) {
        this(setUp -> true, Where.ANYWHERE, LONGEST_MS, begin, end);
    }

    Mishap(int longest_ms, Consumer<Trouble> begin, Consumer<Trouble> end) {
        this(setUp -> true, Where.ANYWHERE, longest_ms, begin, end);
    }

    Mishap(Where where, Consumer<Trouble> begin, Consumer<Trouble> end) {
        this(setUp -> true, where, LONGEST_MS, begin, end);
    }

    Mishap(Predicate<SetUp> fits, Consumer<Trouble> begin, Consumer<Trouble> end) {
        this(fits, Where.ANYWHERE, LONGEST_MS, begin, end);
    }

    boolean fits(SetUp setUp) {
        return fits.test(setUp);
    }

    Where where() {
        return where;
    }

    int longest_ms() {
        return longest_ms;
    }

    void begin(Trouble trouble) {
        begin.accept(trouble);
    }

    void end(Trouble trouble) {
        end.accept(trouble);
    }
}
