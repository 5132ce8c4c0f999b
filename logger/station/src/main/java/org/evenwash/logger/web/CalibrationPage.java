package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.chart.Drawing;
import org.evenwash.logger.report.KeptCalibration;
import org.evenwash.logger.store.Calibration;
import org.evenwash.logger.store.RecipeVersion;
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
        KeptCalibration kept = KeptCalibration.of(one, page.wording());
        desk.show(
                ctx,
                "calibration",
                page,
                new View(
                        CalibratePage.row(one, Names.of(place), page),
                        kept.remarks(),
                        kept.picture().map(Drawing::svgInPage).orElse(null),
                        kept.headings(),
                        kept.readings(),
                        kept.washes(),
                        place.calibrating().shelf().recipesOf(id),
                        new Options(place, page.texts(), page.formats()).operators()));
    }
}
