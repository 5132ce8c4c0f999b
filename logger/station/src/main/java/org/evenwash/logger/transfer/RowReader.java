package org.evenwash.logger.transfer;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.regex.Pattern;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.QueenCheck;
import org.evenwash.logger.wash.HandlingCheck;
import org.evenwash.logger.wash.Yard;

/** Reads the cells of a row as values, and notes every one that cannot be. */
final class RowReader {
    private static final Pattern SPACES = Pattern.compile("\\s+");
    private static final int LONGEST_REMARKS = 4_000;
    private static final int MOST_MITES = 100_000;
    private static final int MOST_BEES = 100_000;

    /** Alcohol washes were hardly known before; catches a slipped century. */
    private static final LocalDate EARLIEST = LocalDate.of(1950, 1, 1);

    private final ImportPlan plan;
    private final List<String> headings;
    private final LocalDate latest;
    private final List<RowProblem> problems;
    private final List<RowProblem> cautions;

    /** The same few names stand in thousands of rows. */
    private final Map<String, String> names = new HashMap<>();

    private final Map<String, String> plainWords = new HashMap<>();

    private OldWash wash;
    private List<String> cells;
    private boolean clean;

    /**
     * @param latest day that a wash can have been made on
     * @param problems takes what makes a row unusable
     * @param cautions takes what deserves a look
     */
    RowReader(
            ImportPlan plan,
            List<String> headings,
            LocalDate latest,
            List<RowProblem> problems,
            List<RowProblem> cautions) {
        this.plan = plan;
        this.headings = headings;
        this.latest = latest;
        this.problems = problems;
        this.cautions = cautions;
    }

    /** Empty where the row has a problem. */
    Optional<OldWash> read(long line, List<String> row) {
        wash = new OldWash(line);
        cells = row;
        clean = true;
        if (row.size() != headings.size()) {
            wrongRow(
                    row.size()
                            + " values under "
                            + headings.size()
                            + " headings; a separator inside a text needs quotation marks around the"
                            + " text");
            return Optional.empty();
        }
        day();
        name(WashField.APIARY, plan.apiary() == null);
        name(WashField.COLONY, true);
        if (wash.text(WashField.APIARY) == null && plan.apiary() != null) {
            wash.put(WashField.APIARY, plan.apiary());
        }
        for (WashField person :
                List.of(
                        WashField.OPERATOR,
                        WashField.BEES_COUNTED_BY,
                        WashField.COUNTED_BY,
                        WashField.RECOUNTED_BY,
                        WashField.SECOND_COUNTED_BY,
                        WashField.BLANK_COUNTED_BY,
                        WashField.SPIRIT)) {
            name(person, false);
        }
        bees();
        counts();
        pass();
        handling();
        wash.put(
                WashField.QUEEN_CHECK,
                word(WashField.QUEEN_CHECK, Words.QUEEN, QueenCheck.NOT_STATED));
        wash.put(WashField.FRAME, word(WashField.FRAME, Words.FRAME, plan.frame()));
        wash.put(WashField.RECOUNT_BLIND, word(WashField.RECOUNT_BLIND, Words.YES_NO, false));
        wash.put(WashField.SIMULATED, word(WashField.SIMULATED, Words.YES_NO, false));
        id();
        remarks();
        return clean ? Optional.of(wash) : Optional.empty();
    }

    private void day() {
        String text = cell(WashField.DAY);
        Optional<LocalDate> day = plan.dayOrder().read(text, plan.dayZero());
        if (day.isEmpty()) {
            wrong(WashField.DAY, "a day such as " + plan.dayOrder().example());
        } else if (day.get().isAfter(latest) || day.get().isBefore(EARLIEST)) {
            wrong(WashField.DAY, "a day from " + EARLIEST + " to " + latest);
        } else {
            wash.put(WashField.DAY, day.get());
        }
    }

    private void name(WashField field, boolean required) {
        String text = SPACES.matcher(cell(field)).replaceAll(" ");
        if (text.isEmpty()) {
            if (required) {
                wrong(field, "a name");
            }
        } else if (text.length() > Yard.LONGEST_NAME) {
            wrong(field, "at most " + Yard.LONGEST_NAME + " characters");
        } else if (text.chars().anyMatch(Character::isISOControl)) {
            wrong(field, "a name without control characters");
        } else {
            wash.put(field, names.computeIfAbsent(text, same -> same));
        }
    }

    private void bees() {
        Double bees = number(WashField.BEES, Double.MIN_VALUE, MOST_BEES, "a number above 0");
        BeeMeasure measure = word(WashField.BEE_MEASURE, Words.MEASURE, plan.beeMeasure());
        if (bees != null && measure == BeeMeasure.COUNTED && bees != Math.rint(bees)) {
            wrong(
                    WashField.BEES,
                    "a whole number, as the bees are said to be counted; choose mass or fill line"
                            + " if they were estimated");
        }
        wash.put(WashField.BEES, bees);
        wash.put(WashField.BEE_MEASURE, measure);
        wash.put(
                WashField.BEES_LOG_SD,
                number(WashField.BEES_LOG_SD, 0, 1, "a standard deviation of ln bees, 0 to 1"));
        Double mass = number(WashField.SAMPLE_MASS, Double.MIN_VALUE, 1e9, "a mass above 0");
        Double mass_g = mass == null ? null : plan.massUnit().grams(mass);
        if (mass_g != null && (mass_g < 0.1 || mass_g > 10_000)) {
            wrong(WashField.SAMPLE_MASS, "0.1 g to 10 kg; check the unit");
        }
        wash.put(WashField.SAMPLE_MASS, mass_g);
    }

    private void counts() {
        for (WashField mites :
                List.of(
                        WashField.MITES,
                        WashField.RECOUNT_MITES,
                        WashField.SECOND_MITES,
                        WashField.BLANK_MITES)) {
            wash.put(mites, whole(mites, MOST_MITES));
        }
        Integer mites = wash.whole(WashField.MITES);
        Double bees = wash.number(WashField.BEES);
        if (wash.whole(WashField.RECOUNT_MITES) != null && mites == null) {
            wrong(WashField.RECOUNT_MITES, "a first count beside a recount");
        }
        if (clean && mites != null && bees != null && mites > bees) {
            caution(WashField.MITES, "more mites than bees; are the columns the right way round?");
        }
        if (clean && mites == null) {
            cautions.add(
                    new RowProblem(
                            wash.line(), "", "", "no mites: the wash will wait for its count"));
        }
    }

    private void pass() {
        Double shaken = number(WashField.HAND_AGITATION, Double.MIN_VALUE, 1e9, "a time above 0");
        Double shaken_s = shaken == null ? null : plan.agitationUnit().seconds(shaken);
        if (shaken_s != null && (shaken_s < 1 || shaken_s > 14_400)) {
            wrong(WashField.HAND_AGITATION, "1 s to 4 h; check the unit");
        }
        wash.put(WashField.HAND_AGITATION, shaken_s);
        wash.put(WashField.RINSES, whole(WashField.RINSES, 20));
    }

    private void handling() {
        String frames = "a whole number from 1 to " + HandlingCheck.MOST_FRAMES;
        wash.put(
                WashField.FRAMES,
                whole(
                        WashField.FRAMES,
                        number(WashField.FRAMES, 1, HandlingCheck.MOST_FRAMES, frames),
                        frames));
        wash.put(
                WashField.LIQUID_ML,
                number(
                        WashField.LIQUID_ML,
                        1,
                        HandlingCheck.MOST_LIQUID_ML,
                        "1 to " + (int) HandlingCheck.MOST_LIQUID_ML + " mL"));
        Double upper = mesh(WashField.BEE_SIEVE_MM);
        Double lower = mesh(WashField.MITE_SIEVE_MM);
        if (HandlingCheck.swapped(upper, lower)) {
            wrong(
                    WashField.MITE_SIEVE_MM,
                    "a finer mesh than the bee sieve's; are the columns the right way round?");
        }
        wash.put(WashField.BEES_COVERED, word(WashField.BEES_COVERED, Words.YES_NO, null));
        wash.put(
                WashField.JAR_WALLS_CHECKED, word(WashField.JAR_WALLS_CHECKED, Words.YES_NO, null));
        Integer times = whole(WashField.TIMES_WASHED, HandlingCheck.MOST_TIMES_WASHED);
        if (times != null && times < 1) {
            wrong(
                    WashField.TIMES_WASHED,
                    "a whole number, 1 to " + HandlingCheck.MOST_TIMES_WASHED);
        }
        wash.put(WashField.TIMES_WASHED, times);
    }

    private Double mesh(WashField field) {
        Double mesh_mm =
                number(
                        field,
                        HandlingCheck.FINEST_MESH_MM,
                        HandlingCheck.COARSEST_MESH_MM,
                        "a mesh of "
                                + HandlingCheck.FINEST_MESH_MM
                                + " to "
                                + HandlingCheck.COARSEST_MESH_MM
                                + " mm");
        wash.put(field, mesh_mm);
        return mesh_mm;
    }

    private void id() {
        String text = cell(WashField.WASH_ID);
        if (!text.isEmpty()) {
            try {
                wash.put(WashField.WASH_ID, UUID.fromString(text));
            } catch (IllegalArgumentException other) {
                wrong(WashField.WASH_ID, "an id as an export of this logger writes it");
            }
        }
    }

    private void remarks() {
        List<String> parts = new ArrayList<>();
        String own = cell(WashField.REMARKS);
        if (!own.isEmpty()) {
            parts.add(own);
        }
        if (plan.keepOthers()) {
            for (int place = 0; place < headings.size(); place++) {
                String other = cells.get(place).strip();
                if (!plan.columns().containsValue(place) && !other.isEmpty()) {
                    parts.add(headings.get(place) + ": " + other);
                }
            }
        }
        String remarks = String.join("; ", parts);
        if (remarks.length() > LONGEST_REMARKS) {
            wrong(WashField.REMARKS, "at most " + LONGEST_REMARKS + " characters");
        }
        wash.put(WashField.REMARKS, remarks);
    }

    private Integer whole(WashField field, int most) {
        String expected = "a whole number from 0 to " + most;
        return whole(field, number(field, 0, most, expected), expected);
    }

    private Integer whole(WashField field, Double value, String expected) {
        if (value != null && value != Math.rint(value)) {
            wrong(field, expected);
            return null;
        }
        return value == null ? null : value.intValue();
    }

    private Double number(WashField field, double least, double most, String expected) {
        String text = cell(field);
        if (text.isEmpty()) {
            return null;
        }
        Double value = Words.number(text, plan.decimalComma());
        if (value == null) {
            String sign = plan.decimalComma() ? "a decimal comma" : "a decimal point";
            wrong(field, expected + ", with " + sign + " and nothing between the thousands");
        } else if (value < least || value > most) {
            wrong(field, expected);
        }
        return value;
    }

    private <T> T word(WashField field, Map<String, T> known, T otherwise) {
        String text = cell(field);
        if (text.isEmpty()) {
            return otherwise;
        }
        T found = known.get(plainWords.computeIfAbsent(text, WashField::words));
        if (found == null) {
            wrong(field, "one of " + String.join(", ", known.keySet()));
        }
        return found;
    }

    /** Empty where nothing is mapped to it. */
    private String cell(WashField field) {
        Integer place = plan.columns().get(field);
        return place == null ? "" : SafeCell.read(cells.get(place).strip());
    }

    private void wrong(WashField field, String expected) {
        clean = false;
        problems.add(new RowProblem(wash.line(), heading(field), cell(field), expected));
    }

    private void caution(WashField field, String noticed) {
        cautions.add(new RowProblem(wash.line(), heading(field), cell(field), noticed));
    }

    private String heading(WashField field) {
        Integer place = plan.columns().get(field);
        return place == null ? field.key() : headings.get(place);
    }

    private void wrongRow(String what) {
        clean = false;
        problems.add(new RowProblem(wash.line(), "", "", what));
    }
}
