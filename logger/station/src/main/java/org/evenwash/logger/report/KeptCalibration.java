package org.evenwash.logger.report;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.UUID;
import org.evenwash.analysis.agitation.AgitationTime;
import org.evenwash.analysis.agitation.TimedWash;
import org.evenwash.logger.chart.Drawing;
import org.evenwash.logger.chart.StudyCharts;
import org.evenwash.logger.store.Calibration;
import org.evenwash.logger.store.Json;
import org.evenwash.logger.wash.SecondWash;

/**
 * A stored calibration as page and report show it.
 *
 * @param says its result in the words that it was stored with
 * @param remarks that were stored with the result
 * @param picture empty where there is none
 * @param headings of the readings
 * @param readings a row each, numbers as text
 * @param washes from which it was found, in the order of the readings; empty for other kinds
 */
public record KeptCalibration(
        String says,
        List<String> remarks,
        Optional<Drawing> picture,
        List<String> headings,
        List<List<String>> readings,
        List<UUID> washes) {

    public static KeptCalibration of(Calibration one, Wording wording) {
        JsonNode inputs = Json.read(one.inputsJson(), JsonNode.class);
        return new KeptCalibration(
                says(one, wording),
                remarks(one).stream().map(wording::decimals).toList(),
                picture(one, inputs, wording),
                columns(inputs).stream().map(wording::field).toList(),
                readings(inputs, wording),
                washes(inputs));
    }

    /** The stored result in the words that it was stored with. */
    public static String says(Calibration one, Wording wording) {
        Stored stored = Json.read(one.resultJson(), Stored.class);
        Stored.Said said =
                switch (one.kind()) {
                    case RECOVERY -> stored.recovery();
                    case AGITATION_TIME -> stored.time();
                    case FILL_LINE, MASS -> stored.bees();
                    case BENCH_SPEED -> stored.bias();
                };
        return said == null ? "" : wording.decimals(said.text());
    }

    /** What a page shows of a stored result; whichever belongs to its kind. */
    record Stored(Said recovery, Said time, Said bees, Said bias, Double share, Double grams) {
        record Said(String text, List<String> remarks) {}
    }

    private static List<String> remarks(Calibration one) {
        Stored stored = Json.read(one.resultJson(), Stored.class);
        List<String> remarks = new ArrayList<>();
        for (Stored.Said said :
                Arrays.asList(stored.recovery(), stored.time(), stored.bees(), stored.bias())) {
            if (said != null) {
                remarks.addAll(said.remarks());
            }
        }
        return remarks;
    }

    private static Optional<Drawing> picture(Calibration one, JsonNode inputs, Wording wording) {
        return switch (one.kind()) {
            case FILL_LINE ->
                    StudyCharts.fillLine(wording.say("bees.chart.line"), numbers(inputs, "bees"));
            case MASS -> {
                double[] grams = numbers(inputs, "grams");
                yield StudyCharts.mass(
                        wording.say("bees.chart.mass"),
                        grams,
                        numbers(inputs, "bees"),
                        Arrays.stream(grams).average().orElse(1));
            }
            case AGITATION_TIME -> agitation(one, inputs, wording);
            case RECOVERY, BENCH_SPEED -> Optional.empty();
        };
    }

    private static Optional<Drawing> agitation(Calibration one, JsonNode inputs, Wording wording) {
        double share = Json.read(one.resultJson(), Stored.class).share();
        double[] seconds = numbers(inputs, "agitation_s");
        double[] first = numbers(inputs, "first");
        double[] second = numbers(inputs, "second");
        double[] again = numbers(inputs, "secondAgitation_s");
        boolean same = inputs.path("secondWash").asText().equals(SecondWash.SAME_METHOD.name());
        List<TimedWash> washes = new ArrayList<>();
        for (int i = 0; i < seconds.length; i++) {
            washes.add(
                    new TimedWash(
                            Math.max(1, Math.rint(seconds[i])),
                            (int) first[i],
                            (int) second[i],
                            same
                                    ? OptionalDouble.of(Math.max(1, Math.rint(again[i])))
                                    : OptionalDouble.empty()));
        }
        String title = wording.say("agitation.chart");
        if (same) {
            AgitationTime.SameMethodReport found = AgitationTime.sameMethod(washes, share);
            return found.fit()
                    .map(fit -> StudyCharts.agitation(title, washes, fit, found.result()));
        }
        AgitationTime.Report found = AgitationTime.exhaustive(washes, share);
        return found.choice()
                .map(choice -> StudyCharts.agitation(title, washes, choice, found.result()));
    }

    /** Names of the inputs that are lists of numbers, all equally long. */
    private static List<String> columns(JsonNode inputs) {
        List<String> columns = new ArrayList<>();
        inputs.properties()
                .forEach(
                        field -> {
                            JsonNode first = field.getValue().path(0);
                            if (field.getValue().isArray() && first.isNumber()) {
                                columns.add(field.getKey());
                            }
                        });
        return columns;
    }

    private static List<List<String>> readings(JsonNode inputs, Wording wording) {
        List<double[]> columns =
                columns(inputs).stream().map(name -> numbers(inputs, name)).toList();
        List<List<String>> rows = new ArrayList<>();
        for (int i = 0; !columns.isEmpty() && i < columns.get(0).length; i++) {
            List<String> row = new ArrayList<>();
            for (double[] column : columns) {
                row.add(wording.amount(column[i]));
            }
            rows.add(row);
        }
        return rows;
    }

    private static List<UUID> washes(JsonNode inputs) {
        List<UUID> washes = new ArrayList<>();
        inputs.path("washes").forEach(id -> washes.add(UUID.fromString(id.asText())));
        return washes;
    }

    private static double[] numbers(JsonNode inputs, String name) {
        double[] numbers = new double[inputs.path(name).size()];
        Arrays.setAll(numbers, i -> inputs.path(name).path(i).asDouble());
        return numbers;
    }
}
