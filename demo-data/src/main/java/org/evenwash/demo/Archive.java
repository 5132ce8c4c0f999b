package org.evenwash.demo;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.SplittableRandom;
import java.util.UUID;
import org.evenwash.logger.store.Apiaries;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Colonies;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.ColonyEvent;
import org.evenwash.logger.store.Cycles;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.Frame;
import org.evenwash.logger.store.Handling;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.logger.store.MiteCount;
import org.evenwash.logger.store.Operator;
import org.evenwash.logger.store.Operators;
import org.evenwash.logger.store.OutboxNumbers;
import org.evenwash.logger.store.QueenCheck;
import org.evenwash.logger.store.SpiritBatch;
import org.evenwash.logger.store.SpiritBatches;
import org.evenwash.logger.store.SpiritUse;
import org.evenwash.logger.store.Wash;
import org.evenwash.logger.store.WashBatch;
import org.evenwash.logger.store.WashPass;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Messages;
import org.evenwash.record.Pass;
import org.jdbi.v3.core.Handle;

/**
 * Fills an empty database with years of invented washes: 25 apiaries on both halves of the Earth, 500
 * colonies, seasons, treatments, recounts. The same seed gives the same bees and mites.
 */
public final class Archive {
    static final int APIARIES = 25;
    static final int COLONIES_OF_EACH = 20;
    static final int WASHES = 100_000;
    private static final int YEARS = 5;
    private static final int AT_ONCE = 5_000;
    private static final long SEED = 2_031;

    /** One wash in so many was shaken by a bench; the rest by hand. */
    private static final int BENCH_EVERY = 20;

    private static final int RECOUNT_EVERY = 30;
    private static final int SECOND_EVERY = 50;

    /** Share of the mites that a first wash finds; invented. */
    private static final double RECOVERY = 0.93;

    private static final List<String> STEMS = List.of("Quill", "Bramble", "Osier", "Fen", "Tarn");
    private static final List<String> ENDS = List.of(" Moor", " Side", " Edge", " Hollow", " Rise");
    private static final List<String> PEOPLE =
            List.of(
                    "Oriel", "Bastan", "Wenna", "Corvin", "Isolde", "Jory", "Merryn", "Perran",
                    "Tamsyn", "Ysella", "Zennor", "Lowen");

    private final Database database;
    private final LocalDate lastDay;
    private final SplittableRandom random = new SplittableRandom(SEED);
    private long ids;
    private final List<Operator> people = new ArrayList<>();
    private final List<SpiritBatch> spirits = new ArrayList<>();
    private final List<Hive> hives = new ArrayList<>();
    private long cycles;

    /** A colony, where it stands and how its mites grow. */
    private record Hive(Colony colony, Apiary apiary, MiteYears mites) {}

    /** One wash to be made. */
    private record Due(Hive hive, LocalDate day) {}

    private Archive(Database database, LocalDate lastDay) {
        this.database = database;
        this.lastDay = lastDay;
    }

    /**
     * Fills a folder, which a logger can then serve: {@code Archive FOLDER}.
     *
     * @throws IllegalArgumentException without a folder
     */
    public static void main(String[] args) throws java.io.IOException {
        if (args.length != 1) {
            throw new IllegalArgumentException("name the folder to fill");
        }
        Path folder = Files.createDirectories(Path.of(args[0]));
        try (Database database = Database.open("jdbc:sqlite:" + folder.resolve("evenwash.db"))) {
            fill(database, LocalDate.now(Clock.systemUTC()));
        }
        System.out.println(WASHES + " invented washes in " + folder);
    }

    /**
     * Fills an empty database and makes it a demonstration.
     *
     * @param lastDay of the washes; the first lies five years before
     */
    static void fill(Database database, LocalDate lastDay) {
        database.becomeDemonstration();
        new Archive(database, lastDay).fill();
    }

    private void fill() {
        database.change(
                handle -> {
                    people(handle);
                    spirits(handle);
                    for (int i = 0; i < APIARIES; i++) {
                        apiary(handle, i);
                    }
                });
        List<Due> due = due();
        for (int from = 0; from < due.size(); from += AT_ONCE) {
            List<Due> some = due.subList(from, Math.min(due.size(), from + AT_ONCE));
            database.change(
                    handle -> {
                        List<CycleTie> ties = new ArrayList<>();
                        try (WashBatch batch = new WashBatch(handle)) {
                            some.forEach(one -> wash(batch, one, ties));
                            batch.flush();
                        }
                        ties.forEach(tie -> tie.store(handle));
                    });
        }
    }

    private void people(Handle handle) {
        for (String name : PEOPLE) {
            Operator person = new Operator(id(), name, true, noon(firstDay()));
            Operators.insert(handle, person);
            people.add(person);
        }
    }

    /** One mix a month. */
    private void spirits(Handle handle) {
        for (LocalDate day = firstDay(); day.isBefore(lastDay); day = day.plusMonths(1)) {
            boolean last = !day.plusMonths(1).isBefore(lastDay);
            SpiritBatch batch =
                    new SpiritBatch(
                            id(),
                            "Mix of " + day.getYear() + "-" + day.getMonthValue(),
                            "ethanol",
                            48.0,
                            24.5,
                            5_000.0,
                            day,
                            last ? null : day.plusMonths(1),
                            null,
                            "",
                            noon(day),
                            1);
            SpiritBatches.insert(handle, batch);
            spirits.add(batch);
        }
    }

    private LocalDate firstDay() {
        return lastDay.minusYears(YEARS);
    }

    private void apiary(Handle handle, int number) {
        boolean south = number % 5 == 4;
        String name = STEMS.get(number % 5) + ENDS.get(number / 5);
        Apiary apiary =
                new Apiary(
                        id(),
                        name,
                        south ? "Etc/GMT-10" : "Etc/GMT-1",
                        south ? Hemisphere.SOUTHERN : Hemisphere.NORTHERN,
                        null,
                        null,
                        "",
                        noon(firstDay()),
                        1);
        Apiaries.insert(handle, apiary);
        for (int i = 1; i <= COLONIES_OF_EACH; i++) {
            Colony colony =
                    new Colony(
                            id(),
                            apiary.id(),
                            String.format(java.util.Locale.ROOT, "%s %02d", name.charAt(0), i),
                            null,
                            "",
                            noon(firstDay()),
                            1);
            Colonies.insert(handle, colony);
            MiteYears mites = new MiteYears(south, firstDay(), lastDay, random.split());
            hives.add(new Hive(colony, apiary, mites));
            mites.treatments().forEach(one -> treat(handle, colony, one));
        }
    }

    private void treat(Handle handle, Colony colony, MiteYears.Treatment treatment) {
        Colonies.insertEvent(
                handle,
                new ColonyEvent(
                        id(),
                        colony.id(),
                        ColonyEvent.Kind.TREATMENT,
                        treatment.day(),
                        treatment.lasts_days() == 0
                                ? null
                                : treatment.day().plusDays(treatment.lasts_days()),
                        null,
                        null,
                        null,
                        null,
                        null,
                        treatment.substance(),
                        "",
                        noon(treatment.day()),
                        null,
                        null));
    }

    /** The same number for each colony, on days of its season, in the order of the days. */
    private List<Due> due() {
        List<Due> due = new ArrayList<>(WASHES);
        int each = WASHES / hives.size();
        for (Hive hive : hives) {
            List<LocalDate> season = hive.mites().daysOfSeason();
            for (int i = 0; i < each; i++) {
                due.add(new Due(hive, season.get((int) ((long) i * season.size() / each))));
            }
        }
        due.sort(Comparator.comparing(Due::day));
        return due;
    }

    private void wash(WashBatch batch, Due due, List<CycleTie> ties) {
        Instant at = noon(due.day());
        Operator person = one(people);
        boolean counted = random.nextInt(4) > 0;
        double bees = Math.max(150, Math.round(300 + 22 * random.nextGaussian()));
        UUID washId = id();
        batch.add(
                new Wash(
                        washId,
                        due.hive().colony().id(),
                        due.hive().apiary().id(),
                        due.day(),
                        person.id(),
                        random.nextInt(20) == 0 ? Frame.OTHER : Frame.BROOD_NEST,
                        random.nextInt(10) == 0
                                ? QueenCheck.NOT_CHECKED
                                : QueenCheck.SEEN_ELSEWHERE,
                        counted ? BeeMeasure.COUNTED : BeeMeasure.FILL_LINE,
                        bees,
                        counted ? null : 0.08,
                        null,
                        counted ? person.id() : null,
                        3,
                        Handling.NOT_STATED,
                        "",
                        true,
                        at,
                        null,
                        1));
        boolean bench = random.nextInt(BENCH_EVERY) == 0;
        SpiritBatch spirit = spiritOf(due.day());
        UUID passId = id();
        batch.add(new WashPass(passId, washId, Pass.FIRST, spirit.id(), bench ? null : 60.0, 1));
        batch.add(
                new SpiritUse(
                        id(),
                        spirit.id(),
                        SpiritUse.Kind.WASH,
                        passId,
                        null,
                        null,
                        "",
                        at,
                        person.id()));
        double infestation = due.hive().mites().on(due.day());
        int all = Draws.binomial((int) bees, infestation, random);
        int mites = Draws.binomial(all, RECOVERY, random);
        batch.add(new MiteCount(id(), passId, mites, person.id(), at, false, false, 1));
        if (random.nextInt(RECOUNT_EVERY) == 0) {
            int again = Math.max(0, mites + (mites > 5 ? random.nextInt(3) - 1 : 0));
            batch.add(
                    new MiteCount(
                            id(),
                            passId,
                            again,
                            one(people).id(),
                            at.plusSeconds(900),
                            true,
                            true,
                            1));
        }
        if (random.nextInt(SECOND_EVERY) == 0) {
            UUID second = id();
            int left = Draws.binomial(all - mites, RECOVERY, random);
            batch.add(new WashPass(second, washId, Pass.SECOND, spirit.id(), 60.0, 1));
            batch.add(
                    new MiteCount(
                            id(), second, left, person.id(), at.plusSeconds(600), false, false, 1));
        }
        if (bench) {
            ties.add(new CycleTie(InventedCycle.of(++cycles, at, washId), passId));
        }
    }

    /** A cycle and the pass that it shook; tied once the pass is written. */
    private record CycleTie(CycleRecord record, UUID passId) {
        void store(Handle handle) {
            String hash = Messages.sha256(Messages.write(record));
            Cycles.insert(handle, record, hash, false, record.endedAt());
            OutboxNumbers.note(
                    handle,
                    record.benchId(),
                    record.outboxId(),
                    record.sequence(),
                    record.cycleId());
            Cycles.attach(handle, record.cycleId(), 1, passId, null, record.endedAt());
        }
    }

    private SpiritBatch spiritOf(LocalDate day) {
        int month = (int) ChronoUnit.MONTHS.between(firstDay(), day);
        return spirits.get(Math.max(0, Math.min(spirits.size() - 1, month)));
    }

    private <T> T one(List<T> of) {
        return of.get(random.nextInt(of.size()));
    }

    /** As {@link org.evenwash.record.Ids} makes them, a millisecond after the other. */
    private UUID id() {
        ids++;
        return new UUID(
                (ids << 16) | 0x7000L | random.nextInt(0x1000),
                (random.nextLong() & ~(3L << 62)) | (2L << 62));
    }

    private static Instant noon(LocalDate day) {
        return day.atTime(LocalTime.NOON).toInstant(ZoneOffset.UTC);
    }
}
