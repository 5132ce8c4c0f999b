package org.evenwash.logger.wash;

import java.time.LocalDate;
import java.util.Comparator;
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
     * @param result null without one
     * @param recent the latest results, oldest first
     */
    public record Row(
            ColonyLine line,
            Result result,
            Verdict.Call call,
            Optional<Threshold> threshold,
            List<CountedWash> recent) {}

    public Listing<Row> list(Filter filter, Sort sort, Page page) {
        boolean simulatedToo = desk.demonstration();
        Function<UUID, Optional<Threshold>> thresholds = standards.thresholdsInUse();
        String name = filter.name().strip().toLowerCase(Locale.ROOT);
        List<Row> all =
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
                        .map(line -> row(line, thresholds.apply(line.apiaryId())))
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

    private static Row row(ColonyLine line, Optional<Threshold> threshold) {
        if (line.washId() == null) {
            return new Row(line, null, Verdict.Call.NOT_ASSESSED, threshold, List.of());
        }
        Result result =
                Infestations.of(line.mites(), line.bees(), line.beeMeasure(), line.beesLogSd());
        Verdict.Call call =
                Verdict.of(threshold, result).map(Verdict::call).orElse(Verdict.Call.NOT_ASSESSED);
        return new Row(line, result, call, threshold, List.of());
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
                                    (Row row) ->
                                            row.result() == null
                                                    ? 1
                                                    : -row.line().mites() / row.line().bees())
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
