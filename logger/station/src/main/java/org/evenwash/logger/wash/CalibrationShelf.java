package org.evenwash.logger.wash;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.Comparator;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.StreamSupport;
import org.evenwash.logger.store.Calibration;
import org.evenwash.logger.store.CalibrationKind;
import org.evenwash.logger.store.Calibrations;
import org.evenwash.logger.store.Json;
import org.evenwash.logger.store.RecipeVersion;
import org.evenwash.logger.store.Recipes;
import org.jdbi.v3.core.Handle;

/** Calibrations that were made, and which of them are used. None is ever changed or deleted. */
public final class CalibrationShelf {
    /** More than a lifetime of calibrating; the page shows them all. */
    private static final int MOST = 500;

    private final Desk desk;

    CalibrationShelf(Desk desk) {
        this.desk = desk;
    }

    /**
     * A calibration before it is on the shelf.
     *
     * @param inputs all readings, to be written as JSON
     * @param result in full digits and in words, to be written as JSON
     * @param use from now on, in place of the one that it follows
     */
    record Draft(
            CalibrationKind kind,
            String name,
            String benchId,
            String recipeId,
            Integer recipeVersion,
            Object inputs,
            Object result,
            boolean use) {}

    void put(Handle handle, UUID id, Draft draft, By by) {
        Instant now = desk.now();
        Calibration made =
                new Calibration(
                        id,
                        draft.kind(),
                        draft.name(),
                        draft.benchId(),
                        draft.recipeId(),
                        draft.recipeVersion(),
                        Json.write(draft.inputs()),
                        Json.write(draft.result()),
                        draft.kind().methodVersion(),
                        desk.demonstration(),
                        now,
                        by.operatorId(),
                        draft.use() ? now : null,
                        null);
        if (draft.use()) {
            endFormer(handle, made);
        }
        Calibrations.insert(handle, made);
    }

    private void endFormer(Handle handle, Calibration next) {
        for (Calibration former : Calibrations.inUse(handle, next.kind(), true)) {
            if (!former.id().equals(next.id()) && follows(next, former)) {
                Calibrations.end(handle, former.id(), desk.now());
            }
        }
    }

    /** Whether both speak of the same thing, so that only one can be used. */
    private static boolean follows(Calibration next, Calibration former) {
        return switch (next.kind()) {
            case RECOVERY ->
                    Objects.equals(next.benchId(), former.benchId())
                            && Objects.equals(next.recipeId(), former.recipeId())
                            && Objects.equals(next.recipeVersion(), former.recipeVersion());
            case AGITATION_TIME -> Objects.equals(next.recipeId(), former.recipeId());
            case FILL_LINE, MASS -> next.name().equalsIgnoreCase(former.name());
            case BENCH_SPEED -> Objects.equals(next.benchId(), former.benchId());
        };
    }

    /** Newest first. */
    public List<Calibration> all() {
        return desk.read(handle -> Calibrations.all(handle, desk.demonstration(), MOST));
    }

    /** The latest taken into use first. */
    public List<Calibration> inUse(CalibrationKind kind) {
        return desk.read(handle -> Calibrations.inUse(handle, kind, desk.demonstration()));
    }

    public Calibration calibration(UUID id) {
        return desk.read(handle -> calibration(handle, id));
    }

    static Calibration calibration(Handle handle, UUID id) {
        return Calibrations.find(handle, Entry.present("calibration", id))
                .orElseThrow(() -> Refused.notFound("calibration", id));
    }

    /** Recipe versions that were made from a calibration. */
    public List<RecipeVersion> recipesOf(UUID id) {
        return desk.read(handle -> Recipes.ofCalibration(handle, id));
    }

    /** Takes a calibration into use in place of the one for the same thing. */
    public Calibration use(UUID id, By by) {
        desk.onceAt(
                by,
                "use calibration",
                id,
                handle -> {
                    Calibration chosen = calibration(handle, id);
                    if (!Calibrations.use(handle, id, desk.now())) {
                        throw Refused.conflict(
                                "calibration", "is used already", "there is nothing to do");
                    }
                    endFormer(handle, chosen);
                    note(handle, id, false, true, by);
                });
        return calibration(id);
    }

    /** Takes a calibration out of use; results that were printed keep it. */
    public Calibration end(UUID id, By by) {
        desk.onceAt(
                by,
                "end calibration",
                id,
                handle -> {
                    calibration(handle, id);
                    if (!Calibrations.end(handle, id, desk.now())) {
                        throw Refused.conflict(
                                "calibration", "is not used", "there is nothing to do");
                    }
                    note(handle, id, true, false, by);
                });
        return calibration(id);
    }

    private void note(Handle handle, UUID id, boolean before, boolean now, By by) {
        desk.new Changes(handle, by, "calibration", id, null, 1, "chosen")
                .field("in use", before, now)
                .done();
    }

    /**
     * The recovery to correct a wash by: that of its recipe, found on its bench before one found on
     * any.
     */
    static Optional<Calibration> recoveryFor(
            Handle handle, String recipeId, int version, String benchId, boolean simulatedToo) {
        return Calibrations.inUse(handle, CalibrationKind.RECOVERY, simulatedToo).stream()
                .filter(
                        one ->
                                recipeId.equals(one.recipeId())
                                        && Objects.equals(version, one.recipeVersion())
                                        && (one.benchId() == null || one.benchId().equals(benchId)))
                .min(Comparator.comparing((Calibration one) -> one.benchId() == null));
    }

    /** Whole days from the calibration to a day; 0 where it was made later. */
    public static int age_days(Calibration calibration, LocalDate day, ZoneId zone) {
        LocalDate made = calibration.madeAt().atZone(zone).toLocalDate();
        return (int) Math.max(0, ChronoUnit.DAYS.between(made, day));
    }

    /** The readings of that name. */
    static double[] readings(Calibration calibration, String name) {
        JsonNode inputs = Json.read(calibration.inputsJson(), JsonNode.class);
        return StreamSupport.stream(inputs.path(name).spliterator(), false)
                .mapToDouble(JsonNode::asDouble)
                .toArray();
    }
}
