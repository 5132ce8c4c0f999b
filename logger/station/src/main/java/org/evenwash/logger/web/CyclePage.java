package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.util.List;
import java.util.Objects;
import org.evenwash.logger.wash.WashSheet;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Position;

/** {@code /cycles/{id}}: one cycle record, all of it. */
public final class CyclePage {
    private final FrontDesk desk;
    private final Workplace place;

    CyclePage(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    /**
     * @param washes those that its tickets named
     */
    public record View(CycleView cycle, List<Option> washes) {

        /** A range of readings in words. */
        public String range(CycleRecord.Range range, String unit, Shell page) {
            if (range == null) {
                return page.t("cycle.notRead");
            }
            Formats formats = page.formats();
            return page.t(
                            "cycle.range",
                            formats.number(range.min(), 1),
                            formats.number(range.max(), 1))
                    + " "
                    + unit;
        }
    }

    void show(Context ctx) {
        CycleRecord record = place.cycles().record(Query.path(ctx, desk.texts(ctx)));
        Formats formats = desk.formats(ctx);
        String title = desk.texts(ctx).say("cycle.title", formats.dayAndTime(record.startedAt()));
        List<Option> washes =
                record.positions().stream()
                        .map(Position::washId)
                        .filter(Objects::nonNull)
                        .distinct()
                        .map(place.sheets()::of)
                        .map(sheet -> option(sheet, formats))
                        .toList();
        desk.show(
                ctx,
                "cycle",
                desk.shell(ctx, title, "cycles"),
                new View(CycleView.of(record), washes));
    }

    private static Option option(WashSheet sheet, Formats formats) {
        return new Option(
                sheet.wash().id().toString(),
                sheet.colony().name() + ", " + formats.day(sheet.wash().sampledOn()));
    }
}
