package org.evenwash.logger.wash;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;
import org.evenwash.analysis.apiary.ColoniesOver;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.logger.store.Apiaries;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colonies;
import org.evenwash.logger.store.ColonyEvent;
import org.evenwash.logger.store.Corrections;
import org.evenwash.logger.store.CountedWash;
import org.evenwash.logger.store.CountedWashes;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.logger.wash.ApiaryOverview.Mean;
import org.evenwash.logger.wash.ApiaryOverview.MeanOf;
import org.evenwash.logger.wash.ApiaryOverview.Over;
import org.evenwash.logger.wash.ApiaryOverview.Row;
import org.evenwash.logger.wash.ApiaryOverview.Standing;
import org.jdbi.v3.core.Handle;

/** Apiaries as a whole: what a round of washes says of all their colonies, and their settings. */
public final class ApiaryBook {
    /** A round is usually washed within three weeks; common practice, no source. */
    public static final int USUAL_ROUND_DAYS = 21;

    public static final int LONGEST_ROUND_DAYS = 365;

    private final Desk desk;
    private final Standards standards;

    ApiaryBook(Desk desk, Standards standards) {
        this.desk = desk;
        this.standards = standards;
    }

    /**
     * The round that ends with the last result there.
     *
     * @param days that a round lasts, 1 to {@value #LONGEST_ROUND_DAYS}
     */
    public ApiaryOverview overview(UUID apiaryId, int days) {
        if (days < 1 || days > LONGEST_ROUND_DAYS) {
            throw Refused.invalid(
                    "days of a round", "is " + days, "choose 1 to " + LONGEST_ROUND_DAYS);
        }
        boolean simulatedToo = desk.demonstration();
        return desk.read(handle -> overview(handle, apiaryId, days, simulatedToo));
    }

    private ApiaryOverview overview(Handle handle, UUID apiaryId, int days, boolean simulatedToo) {
        Apiary apiary = Yard.apiary(handle, apiaryId);
        LocalDate today = LocalDate.ofInstant(desk.now(), apiary.zone());
        LocalDate to = CountedWashes.lastDayAt(handle, apiaryId, simulatedToo).orElse(today);
        LocalDate from = to.minusDays(days - 1L);
        List<ColonyRound> round = round(handle, apiaryId, from, to, today, simulatedToo);
        boolean washedTreated = round.stream().anyMatch(ColonyRound::washedTreated);
        List<Row> rows = new ArrayList<>();
        for (ColonyRound one : round) {
            rows.add(
                    new Row(one.colony(), standing(one, washedTreated), one.latest().orElse(null)));
        }
        // A stable sort: colonies alike stay by name.
        rows.sort(
                Comparator.comparing(Row::standing)
                        .thenComparing(row -> row.wash() == null ? 0 : -row.wash().per100Bees()));
        Optional<Threshold> threshold = standards.threshold(handle, apiaryId);
        return new ApiaryOverview(
                apiary,
                rows,
                from,
                to,
                mean(rows, round),
                threshold,
                over(rows, round, threshold),
                Season.on(today, apiary.hemisphere()),
                today);
    }

    private static List<ColonyRound> round(
            Handle handle,
            UUID apiaryId,
            LocalDate from,
            LocalDate to,
            LocalDate today,
            boolean simulatedToo) {
        Map<UUID, List<CountedWash>> washes =
                CountedWashes.ofApiary(handle, apiaryId, from, to, simulatedToo).stream()
                        .collect(Collectors.groupingBy(CountedWash::colonyId));
        List<ColonyEvent> events = Colonies.eventsAt(handle, apiaryId, from);
        Map<UUID, List<ColonyEvent>> treatments =
                events.stream()
                        .filter(event -> event.kind() == ColonyEvent.Kind.TREATMENT)
                        .filter(event -> !event.onDay().isAfter(today))
                        .collect(Collectors.groupingBy(ColonyEvent::colonyId));
        return Colonies.living(handle, apiaryId).stream()
                .map(
                        colony ->
                                new ColonyRound(
                                        colony,
                                        SameDay.each(
                                                washes.getOrDefault(colony.id(), List.of()),
                                                events),
                                        treatments.getOrDefault(colony.id(), List.of())))
                .toList();
    }

    /**
     * @param washedTreated whether colonies were washed that had been treated before: then those that
     *     were treated and not washed may be like them
     */
    private static Standing standing(ColonyRound one, boolean washedTreated) {
        if (one.latest().isEmpty()) {
            return one.treated() && !washedTreated ? Standing.TREATED_SINCE : Standing.NOT_WASHED;
        }
        return one.treatedSinceWash() ? Standing.TREATED_SINCE : Standing.WASHED;
    }

    private static long counted(List<Row> rows, Standing standing) {
        return rows.stream().filter(row -> row.standing() == standing).count();
    }

    /**
     * With colonies that were not washed, the washes as they were drawn: what is left after others were
     * treated for their results is no sample of them.
     */
    private static Mean mean(List<Row> rows, List<ColonyRound> round) {
        int unwashed = (int) counted(rows, Standing.NOT_WASHED);
        if (unwashed > 0 && round.stream().anyMatch(one -> one.treatedForResult().isPresent())) {
            return Mean.of(
                    MeanOf.AS_DRAWN,
                    round.stream().flatMap(one -> one.asDrawn().stream()).toList(),
                    unwashed);
        }
        return Mean.of(
                counted(rows, Standing.TREATED_SINCE) == 0 ? MeanOf.ALL : MeanOf.NOT_TREATED,
                rows.stream()
                        .filter(row -> row.standing() == Standing.WASHED)
                        .map(Row::wash)
                        .toList(),
                unwashed);
    }

    /**
     * Of the colonies not treated since. Those not washed are judged by the washes as they were drawn,
     * before anybody treated what was over: the colonies left after that are better than the others.
     */
    private static Optional<Over> over(
            List<Row> rows, List<ColonyRound> round, Optional<Threshold> threshold) {
        List<SameDay> drawn = round.stream().flatMap(one -> one.asDrawn().stream()).toList();
        if (drawn.isEmpty() || threshold.isEmpty() || threshold.get().per100Bees().isEmpty()) {
            return Optional.empty();
        }
        double limit = threshold.get().per100Bees().getAsDouble();
        int unwashed = (int) counted(rows, Standing.NOT_WASHED);
        int drawnOver = (int) drawn.stream().filter(wash -> isOver(wash, limit)).count();
        ColoniesOver bounds = ColoniesOver.of(drawnOver, drawn.size(), drawn.size() + unwashed);
        List<Row> washed = rows.stream().filter(row -> row.standing() == Standing.WASHED).toList();
        int over = (int) washed.stream().filter(row -> isOver(row.wash(), limit)).count();
        return Optional.of(
                new Over(
                        washed.size(),
                        over,
                        washed.size() + unwashed,
                        over + bounds.atMost() - drawnOver,
                        over + bounds.atLeast() - drawnOver));
    }

    /** Readings at the threshold count as over: the cautious side. */
    private static boolean isOver(SameDay wash, double limit) {
        return wash.per100Bees() >= limit;
    }

    /** By what the colonies there are judged that were washed on that day, in the order of the last wash. */
    public List<SameDay> on(UUID apiaryId, LocalDate day) {
        boolean simulatedToo = desk.demonstration();
        return desk.read(
                handle ->
                        SameDay.each(
                                CountedWashes.ofApiary(handle, apiaryId, day, day, simulatedToo),
                                Colonies.eventsAt(handle, apiaryId, day)));
    }

    /**
     * What can be set of an apiary. Days and sieves of washes that are there already stay as they are.
     *
     * @param beeSieve_mm mesh of the upper sieve in use, null if not stated
     * @param miteSieve_mm mesh of the lower sieve in use, null if not stated
     */
    public record Settings(
            String name,
            String timeZone,
            Hemisphere hemisphere,
            Double beeSieve_mm,
            Double miteSieve_mm,
            String remarks) {}

    /**
     * Changes an apiary's settings; what they were is kept.
     *
     * @throws EditedMeanwhile if the apiary has changed since {@code version} was read
     * @throws Refused if the name is taken or the time zone is unknown
     */
    public Apiary change(UUID apiaryId, long version, Settings settings, By by) {
        String name = Entry.name("apiary", settings.name());
        String zone = Yard.zone(settings.timeZone());
        String remarks = Entry.text("remarks", settings.remarks());
        Hemisphere hemisphere = Entry.present("hemisphere", settings.hemisphere());
        HandlingCheck.sieves(settings.beeSieve_mm(), settings.miteSieve_mm());
        desk.onceAt(
                by,
                "change apiary",
                apiaryId,
                handle -> {
                    Apiary before = Yard.apiary(handle, apiaryId);
                    if (Apiaries.named(handle, name)
                            .filter(o -> !o.id().equals(apiaryId))
                            .isPresent()) {
                        throw Refused.conflict(
                                "apiary", "'" + name + "' is there already", "choose another name");
                    }
                    Apiary after =
                            new Apiary(
                                    apiaryId,
                                    name,
                                    zone,
                                    hemisphere,
                                    settings.beeSieve_mm(),
                                    settings.miteSieve_mm(),
                                    remarks,
                                    before.createdAt(),
                                    version);
                    if (!Apiaries.update(handle, after)) {
                        throw new EditedMeanwhile(
                                "apiary",
                                before.version(),
                                Corrections.since(handle, apiaryId, version));
                    }
                    desk.new Changes(handle, by, "apiary", apiaryId, null, version, "changed")
                            .field("name", before.name(), name)
                            .field("time zone", before.timeZone(), zone)
                            .field("hemisphere", before.hemisphere(), hemisphere)
                            .field(
                                    "mesh of the bee sieve",
                                    before.beeSieve_mm(),
                                    settings.beeSieve_mm())
                            .field(
                                    "mesh of the mite sieve",
                                    before.miteSieve_mm(),
                                    settings.miteSieve_mm())
                            .field("remarks", before.remarks(), remarks)
                            .done();
                });
        return desk.read(handle -> Yard.apiary(handle, apiaryId));
    }
}
