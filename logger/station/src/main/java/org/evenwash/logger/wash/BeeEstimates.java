package org.evenwash.logger.wash;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.StreamSupport;
import org.evenwash.analysis.beecount.BeeCount;
import org.evenwash.analysis.infestation.BeesInSample;
import org.evenwash.logger.store.BeeCalibrations;
import org.evenwash.logger.store.BeeCalibrations.InUse;
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
     * @param calibrationId which one, null where only one of the measure is in use
     * @return empty without a calibration, with several and none named, or where it has fewer than
     *     three counted jars
     */
    public Optional<BeesInSample> of(BeeMeasure measure, Double mass_g, UUID calibrationId) {
        if (!measure.estimated() || (measure == BeeMeasure.MASS && mass_g == null)) {
            return Optional.empty();
        }
        List<InUse> possible =
                inUse().stream()
                        .filter(one -> one.measure() == measure)
                        .filter(one -> calibrationId == null || one.id().equals(calibrationId))
                        .toList();
        // Two fill lines hold different numbers of bees: which one was meant is not guessed.
        return possible.size() == 1 ? estimate(possible.get(0), mass_g) : Optional.empty();
    }

    private Optional<BeesInSample> estimate(InUse calibration, Double mass_g) {
        JsonNode inputs = inputs(calibration.id());
        return calibration.measure() == BeeMeasure.MASS
                ? BeeCount.sampleByMass(numbers(inputs, "grams"), numbers(inputs, "bees"), mass_g)
                : BeeCount.sampleAtFillLine(numbers(inputs, "bees"));
    }

    /** Fill lines and masses in use, newest first. */
    public List<InUse> inUse() {
        // Jars counted for a simulated bench say nothing about real bees.
        boolean simulatedToo = desk.demonstration();
        return desk.read(handle -> BeeCalibrations.inUse(handle, simulatedToo));
    }

    private JsonNode inputs(UUID calibrationId) {
        String json = desk.read(handle -> BeeCalibrations.inputs(handle, calibrationId));
        return Json.read(json, JsonNode.class);
    }

    private static double[] numbers(JsonNode inputs, String name) {
        return StreamSupport.stream(inputs.path(name).spliterator(), false)
                .mapToDouble(JsonNode::asDouble)
                .toArray();
    }
}
