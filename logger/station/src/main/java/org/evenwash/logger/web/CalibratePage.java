package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.evenwash.logger.report.KeptCalibration;
import org.evenwash.logger.store.Calibration;
import org.evenwash.logger.wash.Workplace;

/** {@code /calibrate}: what is calibrated, what is used, and where to calibrate anew. */
public final class CalibratePage {
    private final FrontDesk desk;
    private final Workplace place;

    CalibratePage(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    /**
     * @param says its result in words
     * @param age_days since it was made
     */
    public record Row(Calibration calibration, String says, long age_days, String who) {}

    public record View(List<Row> used, List<Row> others) {}

    void show(Context ctx) {
        Shell page = desk.shell(ctx, desk.texts(ctx).say("calibrate.title"), "calibrate");
        Map<UUID, String> people = Names.of(place);
        List<Row> all =
                place.calibrating().shelf().all().stream()
                        .map(one -> row(one, people, page))
                        .toList();
        desk.show(
                ctx,
                "calibrate",
                page,
                new View(
                        all.stream().filter(row -> row.calibration().inUse()).toList(),
                        all.stream().filter(row -> !row.calibration().inUse()).toList()));
    }

    static Row row(Calibration one, Map<UUID, String> people, Shell page) {
        long age_days = Duration.between(one.madeAt(), Instant.now()).toDays();
        return new Row(
                one,
                KeptCalibration.says(one, page.wording()),
                Math.max(0, age_days),
                people.getOrDefault(one.madeBy(), page.t("wash.nobody")));
    }
}
