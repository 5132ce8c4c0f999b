package org.evenwash.logger.wash;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.evenwash.analysis.apiary.ColoniesOver;
import org.evenwash.analysis.apiary.ColonyWash;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.logger.store.Apiaries;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colonies;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.ColonyEvent;
import org.evenwash.logger.store.Corrections;
import org.evenwash.logger.store.CountedWash;
import org.evenwash.logger.store.CountedWashes;
import org.evenwash.logger.store.Hemisphere;
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
        Map<UUID, CountedWash> latest = new HashMap<>();
        CountedWashes.ofApiary(handle, apiaryId, from, to, simulatedToo)
                .forEach(wash -> latest.put(wash.colonyId(), wash));
        List<ColonyEvent> events = Colonies.eventsAt(handle, apiaryId, from);
        List<Row> rows = new ArrayList<>();
        for (Colony colony : Colonies.living(handle, apiaryId)) {
            CountedWash wash = latest.get(colony.id());
            rows.add(new Row(colony, standing(wash, events), wash));
        }
        // A stable sort: colonies alike stay by name.
        rows.sort(
                Comparator.comparing(Row::standing)
                        .thenComparing(row -> row.wash() == null ? 0 : -row.wash().per100Bees()));
        List<ColonyWash> washes =
                rows.stream()
                        .filter(row -> row.standing() == Standing.WASHED)
                        .map(row -> new ColonyWash(row.wash().mites(), row.wash().bees()))
                        .toList();
        Optional<Threshold> threshold = standards.threshold(handle, apiaryId);
        return new ApiaryOverview(
                apiary,
                rows,
                from,
                to,
                org.evenwash.analysis.apiary.Apiary.mean(washes, rows.size()),
                threshold,
                over(washes, rows.size(), threshold),
                Season.on(today, apiary.hemisphere()),
                today);
    }

    private static Standing standing(CountedWash wash, List<ColonyEvent> events) {
        if (wash == null) {
            return Standing.NOT_WASHED;
        }
        boolean treatedSince =
                events.stream()
                        .filter(event -> event.kind() == ColonyEvent.Kind.TREATMENT)
                        .filter(event -> event.colonyId().equals(wash.colonyId()))
                        .anyMatch(event -> !event.lastDay().isBefore(wash.sampledOn()));
        return treatedSince ? Standing.TREATED_SINCE : Standing.WASHED;
    }

    private static Optional<Over> over(
            List<ColonyWash> washes, int colonies, Optional<Threshold> threshold) {
        if (washes.isEmpty() || threshold.isEmpty() || threshold.get().per100Bees().isEmpty()) {
            return Optional.empty();
        }
        double limit = threshold.get().per100Bees().getAsDouble();
        // Readings at the threshold count as over: the cautious side.
        int over = (int) washes.stream().filter(wash -> wash.rate() >= limit).count();
        ColoniesOver bounds = ColoniesOver.of(over, washes.size(), colonies);
        return Optional.of(
                new Over(washes.size(), over, colonies, bounds.atMost(), bounds.atLeast()));
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
        desk.once(
                by,
                "change an apiary",
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
