package org.evenwash.logger.wash;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Optional;
import java.util.stream.StreamSupport;
import org.evenwash.analysis.beecount.BeeCount;
import org.evenwash.analysis.infestation.BeesInSample;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Json;

/**
 * How many bees a sample holds, from the bee-measure calibration in use. Its counted jars stand in
 * {@code calibration.inputs_json}: {@code {"bees": […]}} for a fill line, with {@code "grams": […]} in
 * the same order for mass.
 */
public final class BeeEstimates {
    private final Desk desk;

    BeeEstimates(Desk desk) {
        this.desk = desk;
    }

    /**
     * @param mass_g of the bees; asked for with MASS, else not looked at
     * @return empty without a calibration in use, or where it has fewer than three counted jars
     */
    public Optional<BeesInSample> of(BeeMeasure measure, Double mass_g) {
        if (!measure.estimated() || (measure == BeeMeasure.MASS && mass_g == null)) {
            return Optional.empty();
        }
        return inputs(measure)
                .flatMap(
                        inputs ->
                                measure == BeeMeasure.MASS
                                        ? BeeCount.sampleByMass(
                                                numbers(inputs, "grams"),
                                                numbers(inputs, "bees"),
                                                mass_g)
                                        : BeeCount.sampleAtFillLine(numbers(inputs, "bees")));
    }

    /** Whether a calibration of this measure is in use. */
    public boolean calibrated(BeeMeasure measure) {
        return measure.estimated() && inputs(measure).isPresent();
    }

    private Optional<JsonNode> inputs(BeeMeasure measure) {
        // Jars counted for a simulated bench say nothing about real bees.
        boolean simulatedToo = desk.demonstration();
        return desk.read(
                        handle ->
                                handle.createQuery(
                                                """
                                                SELECT inputs_json FROM calibration
                                                WHERE kind = :kind AND used_from IS NOT NULL
                                                    AND used_until IS NULL
                                                    AND (:simulatedToo OR NOT simulated)
                                                ORDER BY used_from DESC LIMIT 1""")
                                        .bind("kind", measure.name())
                                        .bind("simulatedToo", simulatedToo)
                                        .mapTo(String.class)
                                        .findOne())
                .map(json -> Json.read(json, JsonNode.class));
    }

    private static double[] numbers(JsonNode inputs, String name) {
        return StreamSupport.stream(inputs.path(name).spliterator(), false)
                .mapToDouble(JsonNode::asDouble)
                .toArray();
    }
}
