package org.evenwash.logger.wash;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.ColonyEvent;
import org.evenwash.logger.store.CountedWash;

/**
 * The first washes of a colony on one local day, each of a sample of its own, judged together: mites
 * and bees add up. Only what is known in the same way does: counted bees with counted, one measure with
 * itself; and only what was agitated as long, since a short wash leaves more mites on the bees. A cycle
 * that was cut short counts as what it was ({@link CountedWash#agitation_s}). Where the time of neither is
 * known they were taken for alike when they were made, and are; one that is known never equals one that is
 * not. A day on which something cuts the series, such as a treatment, keeps its washes apart, as nobody
 * knows which of them were before it.
 *
 * @param washes in the order in which they were planned, at least one
 */
public record SameDay(List<CountedWash> washes) {
    public SameDay {
        washes = List.copyOf(washes);
    }

    private record Kind(
            UUID colonyId,
            UUID apiaryId,
            LocalDate day,
            BeeMeasure measure,
            boolean spreadKnown,
            Double agitation_s,
            UUID alone) {}

    /**
     * All days of these washes, in the order of the last wash of each.
     *
     * @param washes oldest first
     * @param events of their colonies
     */
    public static List<SameDay> each(List<CountedWash> washes, List<ColonyEvent> events) {
        Map<UUID, Set<LocalDate>> cuts = new LinkedHashMap<>();
        Map<Kind, List<CountedWash>> days = new LinkedHashMap<>();
        for (CountedWash wash : washes) {
            boolean cut =
                    cuts.computeIfAbsent(
                                    wash.colonyId(), id -> new HashSet<>(Breaks.days(id, events)))
                            .contains(wash.sampledOn());
            Kind kind =
                    new Kind(
                            wash.colonyId(),
                            wash.apiaryId(),
                            wash.sampledOn(),
                            wash.beeMeasure(),
                            wash.beesLogSd() != null,
                            wash.agitation_s(),
                            cut ? wash.id() : null);
            List<CountedWash> before = days.remove(kind);
            List<CountedWash> all = before == null ? new ArrayList<>() : before;
            all.add(wash);
            days.put(kind, all);
        }
        return days.values().stream().map(SameDay::new).toList();
    }

    /** The last day of all; empty without a wash. It is what a colony is judged by. */
    public static Optional<SameDay> last(List<CountedWash> washes, List<ColonyEvent> events) {
        return each(washes, events).stream().reduce((earlier, later) -> later);
    }

    public CountedWash latest() {
        return washes.get(washes.size() - 1);
    }

    boolean holds(UUID washId) {
        return washes.stream().anyMatch(wash -> wash.id().equals(washId));
    }

    public boolean several() {
        return washes.size() > 1;
    }

    public LocalDate day() {
        return latest().sampledOn();
    }

    public int mites() {
        return washes.stream().mapToInt(CountedWash::mites).sum();
    }

    public double bees() {
        return washes.stream().mapToDouble(CountedWash::bees).sum();
    }

    /** Mites per 100 bees, as washed. */
    public double per100Bees() {
        return 100 * mites() / bees();
    }

    public Result infestation() {
        return Infestations.of(mites(), bees(), latest().beeMeasure(), beesLogSd());
    }

    public Optional<Verdict> verdict(Optional<Threshold> threshold) {
        return Verdict.of(threshold, infestation());
    }

    /**
     * As if the estimates were off together, by one jar or one line: the cautious side, since errors of
     * their own would partly cancel.
     */
    private Double beesLogSd() {
        if (latest().beesLogSd() == null) {
            return null;
        }
        return washes.stream().mapToDouble(wash -> wash.bees() * wash.beesLogSd()).sum() / bees();
    }
}
