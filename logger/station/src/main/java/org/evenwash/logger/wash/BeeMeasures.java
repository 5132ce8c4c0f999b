package org.evenwash.logger.wash;

import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.ResultJson;
import org.evenwash.analysis.beecount.BeeCount;
import org.evenwash.logger.store.CalibrationKind;
import org.evenwash.record.Ids;

/** Calibrations of a fill line or of the mass of bees, from jars whose bees were counted. */
public final class BeeMeasures {
    /** With fewer a sample has no interval. */
    public static final int LEAST_JARS = 3;

    private static final int MOST_JARS = 200;

    private final Desk desk;
    private final CalibrationShelf shelf;

    BeeMeasures(Desk desk, CalibrationShelf shelf) {
        this.desk = desk;
        this.shelf = shelf;
    }

    /**
     * A jar that was counted.
     *
     * @param grams its bees without the jar, 0.1 to 10,000; null at a fill line
     * @param bees 1 to 100,000
     */
    public record CountedJar(Double grams, int bees) {}

    /**
     * Keeps counted jars as a calibration and uses it from now on in place of the one of that name.
     *
     * @param name which jar and line, or which scales
     * @param kind a fill line or mass
     * @return the calibration's id
     * @throws Refused if there are fewer than {@value #LEAST_JARS} jars, or a number cannot be
     */
    public UUID add(String name, CalibrationKind kind, List<CountedJar> jars, By by) {
        String whose = Entry.name("name", name);
        if (!Entry.present("measure", kind).measuresBees()) {
            throw Refused.invalid("measure", "is " + kind, "choose fill line or mass");
        }
        check(kind, jars);
        double[] bees = jars.stream().mapToDouble(CountedJar::bees).toArray();
        Map<String, Object> inputs = new LinkedHashMap<>();
        double[] grams = new double[0];
        if (kind == CalibrationKind.MASS) {
            grams = jars.stream().mapToDouble(CountedJar::grams).toArray();
            inputs.put("grams", grams);
        }
        inputs.put("bees", bees);
        Map<String, Object> result = result(kind, grams, bees);
        UUID id = Ids.next();
        return desk.once(
                by,
                "calibrate a bee measure",
                id,
                handle ->
                        shelf.put(
                                handle,
                                id,
                                new CalibrationShelf.Draft(
                                        kind, whose, null, null, null, inputs, result, true),
                                by));
    }

    private static void check(CalibrationKind kind, List<CountedJar> jars) {
        if (jars.size() < LEAST_JARS || jars.size() > MOST_JARS) {
            throw Refused.invalid(
                    "counted jars",
                    "are " + jars.size() + ", expected " + LEAST_JARS + " to " + MOST_JARS,
                    "count at least three; eight to ten are better");
        }
        for (int i = 0; i < jars.size(); i++) {
            CountedJar jar = jars.get(i);
            String where = "jar " + (i + 1);
            if (jar.bees() < 1 || jar.bees() > 100_000) {
                throw Refused.invalid(
                        where, "has " + jar.bees() + " bees", "enter 1 to 100,000 bees");
            }
            if (kind == CalibrationKind.MASS) {
                Entry.range(where, Entry.present(where + " mass", jar.grams()), 0.1, 10_000, "g");
            }
        }
    }

    private static Map<String, Object> result(CalibrationKind kind, double[] grams, double[] bees) {
        Map<String, Object> result = new LinkedHashMap<>();
        Result found;
        if (kind == CalibrationKind.MASS) {
            double middle_g = Arrays.stream(grams).average().orElseThrow();
            found = BeeCount.byMass(grams, bees, middle_g);
            result.put("grams", middle_g);
        } else {
            found = BeeCount.atFillLine(bees);
        }
        result.put("bees", ResultJson.of(found, Quantity.BEES));
        return result;
    }
}
