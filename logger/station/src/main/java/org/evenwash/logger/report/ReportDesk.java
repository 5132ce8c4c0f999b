package org.evenwash.logger.report;

import java.time.Instant;
import java.time.LocalDate;
import java.util.EnumMap;
import java.util.Map;
import java.util.UUID;
import org.evenwash.logger.store.Json;
import org.evenwash.logger.store.Report;
import org.evenwash.logger.store.Reports;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.Refused;
import org.evenwash.logger.wash.ReportShelf;
import org.evenwash.logger.wash.Workplace;

/** Makes reports and keeps them as they are handed out. */
public final class ReportDesk {
    private final Workplace place;
    private final boolean demonstration;

    /** @param demonstration whether the database is one: said on every page of paper too */
    public ReportDesk(Workplace place, boolean demonstration) {
        this.place = place;
        this.demonstration = demonstration;
    }

    /**
     * Makes a report with the next number.
     *
     * @param subjectId a wash, a colony, an apiary or a calibration
     * @param day of an apiary's report, null for the other kinds
     * @throws Refused if the subject is not there, or an apiary was not washed that day
     */
    public Report make(Report.Kind kind, UUID subjectId, LocalDate day, Wording wording, By by) {
        Draft draft = draft(kind, subjectId, day, wording);
        LocalDate onDay = kind == Report.Kind.APIARY_DAY ? day : null;
        return place.reports()
                .keep(
                        (id, number, at) ->
                                made(
                                        draft,
                                        new Report(
                                                id,
                                                number,
                                                kind,
                                                subjectId,
                                                onDay,
                                                draft.title() + ", " + draft.subtitle(),
                                                wording.language(),
                                                draft.methodVersion() + "; " + Method.program(),
                                                draft.protocol(),
                                                draft.threshold(),
                                                at,
                                                by.operatorId(),
                                                null,
                                                null,
                                                null),
                                        at,
                                        wording),
                        by);
    }

    private Draft draft(Report.Kind kind, UUID subjectId, LocalDate day, Wording wording) {
        return switch (kind) {
            case WASH -> WashReport.of(place, subjectId, wording);
            case COLONY -> ColonyReport.of(place, subjectId, wording);
            case APIARY_DAY -> DayReport.of(place, subjectId, day, wording);
            case CALIBRATION -> CalibrationReport.of(place, subjectId, wording);
        };
    }

    private ReportShelf.Made made(Draft draft, Report report, Instant at, Wording wording) {
        String number = String.valueOf(report.number());
        String who =
                report.madeBy() == null
                        ? wording.say("report.made", number, wording.dayAndTime(at))
                        : wording.say(
                                "report.madeBy",
                                number,
                                wording.dayAndTime(at),
                                wording.name(report.madeBy()));
        Document document =
                new Document(
                        draft.title(),
                        draft.subtitle(),
                        who,
                        report.language(),
                        wording.letterPaper(),
                        demonstration ? wording.say("report.demonstration") : null,
                        draft.blocks());
        Map<Report.Format, byte[]> files = new EnumMap<>(Report.Format.class);
        files.put(Report.Format.HTML, HtmlPrinter.print(document));
        files.put(Report.Format.PDF, PdfPrinter.print(document, at, wording));
        return new ReportShelf.Made(
                report,
                new Reports.Content(
                        Json.write(draft.inputs()),
                        Json.write(Map.of("results", draft.results(), "says", document.words())),
                        files,
                        draft.basis()));
    }
}
