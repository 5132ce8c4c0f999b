package org.evenwash.logger.transfer;

import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.regex.Pattern;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Frame;
import org.evenwash.logger.store.Hemisphere;

/** A first plan for a file, from its headings and first rows. Its owner has the last word. */
final class Suggestion {
    private static final int LOOKED_AT = 2_000;
    private static final Pattern COMMA_NUMBER = Pattern.compile("[+-]?\\d+,\\d+");

    private final CsvFile file;
    private final List<List<String>> sample = new ArrayList<>();
    private final Map<WashField, Integer> columns = new EnumMap<>(WashField.class);

    private Suggestion(CsvFile file) {
        this.file = file;
        file.rows(
                (line, cells) -> {
                    if (cells.size() == file.headings().size()) {
                        sample.add(cells);
                    }
                    return sample.size() < LOOKED_AT;
                });
    }

    /**
     * @param apiaries that are known: the only one is taken where no column names any
     */
    static ImportPlan of(CsvFile file, List<Apiary> apiaries) {
        Suggestion suggestion = new Suggestion(file);
        suggestion.columns();
        return suggestion.plan(apiaries);
    }

    private void columns() {
        for (WashField field : WashField.values()) {
            int best = 0;
            for (int place = 0; place < file.headings().size(); place++) {
                int fit = field.fit(file.headings().get(place));
                if (fit > best && !columns.containsValue(place)) {
                    best = fit;
                    columns.put(field, place);
                }
            }
        }
    }

    private ImportPlan plan(List<Apiary> apiaries) {
        Apiary only = apiaries.size() == 1 ? apiaries.get(0) : null;
        return new ImportPlan(
                file.separator(),
                decimalComma(),
                dayOrder(),
                null,
                columns,
                only == null || columns.containsKey(WashField.APIARY) ? null : only.name(),
                only == null ? ZoneId.systemDefault().getId() : only.timeZone(),
                only == null ? Hemisphere.NORTHERN : only.hemisphere(),
                beeMeasure(),
                Frame.NOT_STATED,
                minutes() ? ImportPlan.AgitationUnit.MINUTES : ImportPlan.AgitationUnit.SECONDS,
                ImportPlan.MassUnit.GRAMS,
                false);
    }

    private boolean decimalComma() {
        return file.separator() != ','
                && sample.stream()
                        .flatMap(List::stream)
                        .anyMatch(cell -> COMMA_NUMBER.matcher(cell.strip()).matches());
    }

    /** The order in which all days of the sample can be read; day before month where several can. */
    private DayOrder dayOrder() {
        List<String> days = values(WashField.DAY);
        return Arrays.stream(DayOrder.values())
                .filter(order -> days.stream().allMatch(day -> readable(order, day)))
                .findFirst()
                .orElse(DayOrder.YEAR_MONTH_DAY);
    }

    private static boolean readable(DayOrder order, String day) {
        return order.read(day, LocalDate.EPOCH).isPresent();
    }

    /** A number of bees with decimals was never counted. */
    private BeeMeasure beeMeasure() {
        if (columns.containsKey(WashField.BEE_MEASURE) || !columns.containsKey(WashField.BEES)) {
            return BeeMeasure.NOT_STATED;
        }
        String heading = WashField.words(file.headings().get(columns.get(WashField.BEES)));
        boolean decimals =
                values(WashField.BEES).stream()
                        .map(cell -> Words.number(cell, decimalComma()))
                        .filter(Objects::nonNull)
                        .anyMatch(bees -> bees != Math.rint(bees));
        if (heading.contains("weight") || heading.contains("mass")) {
            return BeeMeasure.MASS;
        }
        return decimals ? BeeMeasure.NOT_STATED : BeeMeasure.COUNTED;
    }

    /** Nobody shakes for 10 s: small numbers are minutes. */
    private boolean minutes() {
        List<String> times = values(WashField.HAND_AGITATION);
        return !times.isEmpty()
                && times.stream()
                        .map(cell -> Words.number(cell, decimalComma()))
                        .allMatch(time -> time != null && time <= 10);
    }

    private List<String> values(WashField field) {
        Integer place = columns.get(field);
        return place == null
                ? List.of()
                : sample.stream()
                        .map(cells -> cells.get(place).strip())
                        .filter(cell -> !cell.isEmpty())
                        .toList();
    }
}
