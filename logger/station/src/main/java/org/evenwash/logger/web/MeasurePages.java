package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.util.List;
import org.evenwash.logger.store.CalibrationKind;
import org.evenwash.logger.wash.Workplace;

/** {@code /calibrate/bees} and {@code /calibrate/speed}: readings typed in beside the jar and the bench. */
public final class MeasurePages {
    private final FrontDesk desk;
    private final Workplace place;

    MeasurePages(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    /** Calibrations of one kind beside the form for the next. */
    public record View(
            List<CalibratePage.Row> rows,
            List<Option> measures,
            List<BenchLine> benches,
            List<Option> benchOptions,
            List<Option> operators) {}

    /** A bench and its latest check; {@code speed} null if there is none. */
    public record BenchLine(String name, SpeedLine speed) {}

    void bees(Context ctx) {
        Shell page = desk.shell(ctx, desk.texts(ctx).say("bees.title"), "calibrate");
        desk.show(ctx, "beeMeasures", page, view(page, true));
    }

    void speed(Context ctx) {
        Shell page = desk.shell(ctx, desk.texts(ctx).say("speed.title"), "calibrate");
        desk.show(ctx, "benchSpeed", page, view(page, false));
    }

    private View view(Shell page, boolean bees) {
        Options options = new Options(place, page.texts(), page.formats());
        var people = Names.of(place);
        return new View(
                place.calibrating().shelf().all().stream()
                        .filter(
                                one ->
                                        bees
                                                ? one.kind().measuresBees()
                                                : one.kind() == CalibrationKind.BENCH_SPEED)
                        .map(one -> CalibratePage.row(one, people, page))
                        .toList(),
                List.of(
                        new Option(
                                CalibrationKind.FILL_LINE.name(),
                                page.texts().say(CalibrationKind.FILL_LINE)),
                        new Option(
                                CalibrationKind.MASS.name(),
                                page.texts().say(CalibrationKind.MASS))),
                place.benches().benches().stream()
                        .map(bench -> new BenchLine(bench.name(), speed(bench.id(), page)))
                        .toList(),
                options.benches(),
                options.operators());
    }

    private SpeedLine speed(String benchId, Shell page) {
        return place.calibrating()
                .speeds()
                .of(benchId)
                .map(one -> SpeedLine.of(one, page))
                .orElse(null);
    }
}
