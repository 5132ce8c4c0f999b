package org.evenwash.logger.wash;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.logger.store.Colonies;
import org.evenwash.logger.store.ColonyEvent;
import org.evenwash.logger.store.ColonyLine;
import org.evenwash.logger.store.ColonyLines;
import org.evenwash.logger.store.CountedWash;
import org.evenwash.logger.store.Listing;
import org.evenwash.logger.store.Page;

/** Colonies with their last results, filtered and in the order asked for. */
public final class ColonyList {
    private static final int RECENT = 8;
    private static final Pattern DIGITS = Pattern.compile("\\d+");

    private final Desk desk;
    private final Standards standards;

    ColonyList(Desk desk, Standards standards) {
        this.desk = desk;
        this.standards = standards;
    }

    public enum Sort {
        /** 2 before 10. */
        NAME,
        /** Highest reading first, those without a result last. */
        RESULT,
        /** Never washed first, then longest ago. */
        WASHED
    }

    /**
     * @param apiaryId null for every apiary
     * @param call of the last result against the threshold in use; null for any
     * @param name part of the colony's name; empty for any
     * @param endedToo whether those that ended are in it
     */
    public record Filter(UUID apiaryId, Verdict.Call call, String name, boolean endedToo) {}

    /**
     * @param last the washes of its last day with a result that are judged together; null without one
     * @param result of them, null without one
     * @param recent the latest results, oldest first
     */
    public record Row(
            ColonyLine line,
            SameDay last,
            Result result,
            Verdict.Call call,
            Optional<Threshold> threshold,
            List<CountedWash> recent) {}

    public Listing<Row> list(Filter filter, Sort sort, Page page) {
        boolean simulatedToo = desk.demonstration();
        Function<UUID, Optional<Threshold>> thresholds = standards.thresholdsInUse();
        String name = filter.name().strip().toLowerCase(Locale.ROOT);
        List<ColonyLine> lines =
                desk
                        .read(
                                handle ->
                                        ColonyLines.all(
                                                handle,
                                                filter.apiaryId(),
                                                filter.endedToo(),
                                                simulatedToo))
                        .stream()
                        .filter(line -> line.name().toLowerCase(Locale.ROOT).contains(name))
                        .toList();
        Map<UUID, List<ColonyEvent>> events = onDaysOfSeveral(lines);
        List<Row> all =
                lines.stream()
                        .map(
                                line ->
                                        row(
                                                line,
                                                events.getOrDefault(line.id(), List.of()),
                                                thresholds.apply(line.apiaryId())))
                        .filter(row -> filter.call() == null || row.call() == filter.call())
                        .sorted(order(sort))
                        .toList();
        List<Row> shown =
                all.stream()
                        .skip((long) (page.number() - 1) * page.size())
                        .limit(page.size())
                        .toList();
        return new Listing<>(withRecent(shown, simulatedToo), all.size(), page);
    }

    /** What may keep washes of one day apart, by colony; nothing is read where no day has several. */
    private Map<UUID, List<ColonyEvent>> onDaysOfSeveral(List<ColonyLine> lines) {
        List<LocalDate> days =
                lines.stream()
                        .filter(line -> line.lastDay().size() > 1)
                        .map(line -> line.lastDay().get(0).sampledOn())
                        .sorted()
                        .toList();
        if (days.isEmpty()) {
            return Map.of();
        }
        Map<UUID, List<ColonyEvent>> events = new HashMap<>();
        for (ColonyEvent event :
                desk.read(
                        handle ->
                                Colonies.eventsWithin(
                                        handle, days.get(0), days.get(days.size() - 1)))) {
            events.computeIfAbsent(event.colonyId(), id -> new ArrayList<>()).add(event);
            if (event.otherColonyId() != null) {
                events.computeIfAbsent(event.otherColonyId(), id -> new ArrayList<>()).add(event);
            }
        }
        return events;
    }

    private static Row row(
            ColonyLine line, List<ColonyEvent> events, Optional<Threshold> threshold) {
        SameDay last = SameDay.last(line.lastDay(), events).orElse(null);
        if (last == null) {
            return new Row(line, null, null, Verdict.Call.NOT_ASSESSED, threshold, List.of());
        }
        Result result = last.infestation();
        Verdict.Call call =
                Verdict.of(threshold, result).map(Verdict::call).orElse(Verdict.Call.NOT_ASSESSED);
        return new Row(line, last, result, call, threshold, List.of());
    }

    private List<Row> withRecent(List<Row> rows, boolean simulatedToo) {
        List<UUID> ids = rows.stream().map(row -> row.line().id()).toList();
        Map<UUID, List<CountedWash>> recent =
                desk.read(handle -> ColonyLines.latest(handle, ids, RECENT, simulatedToo)).stream()
                        .collect(Collectors.groupingBy(CountedWash::colonyId));
        return rows.stream()
                .map(
                        row ->
                                new Row(
                                        row.line(),
                                        row.last(),
                                        row.result(),
                                        row.call(),
                                        row.threshold(),
                                        recent.getOrDefault(row.line().id(), List.of())))
                .toList();
    }

    private static Comparator<Row> order(Sort sort) {
        Comparator<Row> byName =
                Comparator.comparing((Row row) -> withWideNumbers(row.line().name()))
                        .thenComparing(row -> row.line().apiary())
                        .thenComparing(row -> row.line().id());
        return switch (sort) {
            case NAME -> byName;
            case RESULT ->
                    Comparator.comparingDouble(
                                    (Row row) -> row.last() == null ? 1 : -row.last().per100Bees())
                            .thenComparing(byName);
            case WASHED ->
                    Comparator.comparing(
                                    (Row row) -> row.line().lastWash(),
                                    Comparator.nullsFirst(Comparator.<LocalDate>naturalOrder()))
                            .thenComparing(byName);
        };
    }

    /** So that "hive 2" stands before "hive 10". */
    static String withWideNumbers(String name) {
        return DIGITS.matcher(name.toLowerCase(Locale.ROOT))
                .replaceAll(
                        number ->
                                "0".repeat(Math.max(0, 12 - number.group().length()))
                                        + number.group());
    }
}
