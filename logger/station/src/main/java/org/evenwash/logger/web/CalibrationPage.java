package org.evenwash.logger.web;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.http.Context;
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
import org.evenwash.logger.store.RecipeVersion;
import org.evenwash.logger.wash.SecondWash;
import org.evenwash.logger.wash.Workplace;

/** {@code /calibrations/{id}}: one stored calibration with all that it was made of. */
public final class CalibrationPage {
    private final FrontDesk desk;
    private final Workplace place;

    CalibrationPage(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    /**
     * @param remarks that were stored with the result
     * @param picture SVG text, null where there is none
     * @param headings of the readings
     * @param readings a row each, numbers as text
     * @param washes from which it was found, in the order of the readings; empty for other kinds
     * @param recipes that were made from it
     */
    public record View(
            CalibratePage.Row row,
            List<String> remarks,
            String picture,
            List<String> headings,
            List<List<String>> readings,
            List<UUID> washes,
            List<RecipeVersion> recipes,
            List<Option> operators) {}

    void show(Context ctx) {
        UUID id = Query.path(ctx, desk.texts(ctx));
        Calibration one = place.calibrating().shelf().calibration(id);
        String title = desk.texts(ctx).say(one.kind()) + ": " + one.name();
        Shell page = desk.shell(ctx, title, "calibrate");
        JsonNode inputs = Json.read(one.inputsJson(), JsonNode.class);
        desk.show(
                ctx,
                "calibration",
                page,
                new View(
                        CalibratePage.row(one, Names.of(place), page),
                        remarks(one).stream().map(page.formats()::decimals).toList(),
                        picture(one, inputs, page).map(Drawing::svgInPage).orElse(null),
                        columns(inputs).stream().map(page.texts()::field).toList(),
                        readings(inputs, page),
                        washes(inputs),
                        place.calibrating().shelf().recipesOf(id),
                        new Options(place, page.texts(), page.formats()).operators()));
    }

    private static List<String> remarks(Calibration one) {
        CalibratePage.Stored stored = Json.read(one.resultJson(), CalibratePage.Stored.class);
        List<String> remarks = new ArrayList<>();
        for (CalibratePage.Stored.Said said :
                Arrays.asList(stored.recovery(), stored.time(), stored.bees(), stored.bias())) {
            if (said != null) {
                remarks.addAll(said.remarks());
            }
        }
        return remarks;
    }

    private static Optional<Drawing> picture(Calibration one, JsonNode inputs, Shell page) {
        return switch (one.kind()) {
            case FILL_LINE ->
                    StudyCharts.fillLine(page.t("bees.chart.line"), numbers(inputs, "bees"));
            case MASS -> {
                double[] grams = numbers(inputs, "grams");
                yield StudyCharts.mass(
                        page.t("bees.chart.mass"),
                        grams,
                        numbers(inputs, "bees"),
                        Arrays.stream(grams).average().orElse(1));
            }
            case AGITATION_TIME -> agitation(one, inputs, page);
            case RECOVERY, BENCH_SPEED -> Optional.empty();
        };
    }

    private static Optional<Drawing> agitation(Calibration one, JsonNode inputs, Shell page) {
        double share = Json.read(one.resultJson(), CalibratePage.Stored.class).share();
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
        String title = page.t("agitation.chart");
        return same
                ? AgitationTime.sameMethod(washes, share)
                        .fit()
                        .map(fit -> StudyCharts.agitation(title, washes, fit))
                : AgitationTime.exhaustive(washes, share)
                        .choice()
                        .map(choice -> StudyCharts.agitation(title, washes, choice));
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

    private static List<List<String>> readings(JsonNode inputs, Shell page) {
        List<double[]> columns =
                columns(inputs).stream().map(name -> numbers(inputs, name)).toList();
        List<List<String>> rows = new ArrayList<>();
        for (int i = 0; !columns.isEmpty() && i < columns.get(0).length; i++) {
            List<String> row = new ArrayList<>();
            for (double[] column : columns) {
                row.add(page.formats().amount(column[i]));
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
