package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.evenwash.analysis.threshold.MoreBees;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Correction;
import org.evenwash.logger.store.Frame;
import org.evenwash.logger.store.MiteCount;
import org.evenwash.logger.store.QueenCheck;
import org.evenwash.logger.wash.PassSheet;
import org.evenwash.logger.wash.WashSheet;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.record.Pass;

/** {@code /washes/{id}}: one wash from sample to result, with its evidence. */
public final class WashPage {
    private final FrontDesk desk;
    private final Workplace place;

    WashPage(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    public record CountLine(MiteCount count, Pass pass, String who) {}

    public record PassLine(PassSheet sheet, List<CycleView> cycles) {}

    /**
     * @param first nothing stood there before
     */
    public record CorrectionLine(
            boolean first,
            String what,
            String before,
            String now,
            String who,
            String when,
            String why) {}

    /**
     * @param verdict a sentence
     * @param settle what would settle an undecided verdict, null where nothing has to
     * @param protocol name and edition of what the checks come from
     */
    public record View(
            WashSheet sheet,
            Reading reading,
            String verdict,
            String settle,
            List<CountLine> counts,
            List<PassLine> agitation,
            String protocol,
            Judgement checks,
            List<CorrectionLine> corrections,
            Choices choices) {

        /** Values that replaced another, as against those that were entered for the first time. */
        public List<CorrectionLine> corrected() {
            return corrections.stream().filter(one -> !one.first()).toList();
        }

        public List<CorrectionLine> entered() {
            return corrections.stream().filter(CorrectionLine::first).toList();
        }

        public boolean firstCounted() {
            return counts.stream().anyMatch(one -> one.pass() == Pass.FIRST);
        }

        public String bees() {
            Double bees = sheet.wash().bees();
            return bees == null ? "" : Formats.plain(bees);
        }

        /** Counted unless something else was said before. */
        public String beeMeasure() {
            BeeMeasure measure = sheet.wash().beeMeasure();
            return (measure == BeeMeasure.NOT_STATED ? BeeMeasure.COUNTED : measure).name();
        }

        /** Nothing was shaken yet and no ticket is out. */
        public boolean wantsTicket() {
            return sheet.tickets().isEmpty()
                    && sheet.passes().stream().allMatch(one -> one.agitation_s() == null);
        }

        public String spirit() {
            return sheet.pass(Pass.FIRST)
                    .filter(one -> one.spirit() != null)
                    .map(one -> one.spirit().id().toString())
                    .orElse("");
        }

        public String handAgitation() {
            return sheet.pass(Pass.FIRST)
                    .filter(one -> one.pass().handAgitation_s() != null)
                    .map(one -> Formats.plain(one.pass().handAgitation_s()))
                    .orElse("");
        }
    }

    /** What the forms offer. */
    public record Choices(
            List<Option> operators,
            List<Option> frames,
            List<Option> queenChecks,
            List<Option> beeMeasures,
            List<Option> benches,
            List<Option> recipes,
            List<Option> positions,
            List<Option> passes,
            List<Option> spirits) {

        public String onlyBench() {
            return Options.only(benches);
        }

        public String onlyRecipe() {
            return Options.only(recipes);
        }
    }

    void show(Context ctx) {
        WashSheet sheet = place.sheets().of(Query.path(ctx, desk.texts(ctx)));
        String title = desk.texts(ctx).say("wash.title", sheet.colony().name());
        Shell page = desk.shell(ctx, title, "washes").at(sheet.apiary().zone());
        desk.show(ctx, "wash", page, view(sheet, page));
    }

    private View view(WashSheet sheet, Shell page) {
        Map<UUID, String> names = Names.of(place);
        Verdict verdict = sheet.verdict();
        return new View(
                sheet,
                Reading.of(
                        sheet.infestation(),
                        verdict == null ? Verdict.Call.NOT_ASSESSED : verdict.call(),
                        Pictures.large(sheet.infestation(), verdict, page),
                        page.formats()),
                verdict == null ? page.t("wash.thresholds.none") : verdict.words(),
                settle(sheet),
                counts(sheet, names, page),
                agitation(sheet),
                sheet.protocol().name() + ", " + sheet.protocol().edition(),
                Judgement.of(sheet.checks()),
                corrections(sheet, names, page),
                choices(page));
    }

    /** How many more bees would settle an undecided verdict; null where that is not the question. */
    private static String settle(WashSheet sheet) {
        Verdict verdict = sheet.verdict();
        Double bees = sheet.wash().bees();
        if (verdict == null || verdict.call() != Verdict.Call.UNDECIDED || bees == null) {
            return null;
        }
        int mites = sheet.mites().orElseThrow();
        double limit = verdict.threshold().per100Bees().orElseThrow();
        return MoreBees.toSettle(mites, (int) Math.round(bees), limit).words();
    }

    private List<CountLine> counts(WashSheet sheet, Map<UUID, String> names, Shell page) {
        List<CountLine> lines = new ArrayList<>();
        for (PassSheet pass : sheet.passes()) {
            for (MiteCount count : pass.counts()) {
                String who = names.getOrDefault(count.countedBy(), page.t("wash.nobody"));
                lines.add(new CountLine(count, pass.pass().kind(), who));
            }
        }
        return lines;
    }

    private List<PassLine> agitation(WashSheet sheet) {
        return sheet.passes().stream()
                .map(
                        pass ->
                                new PassLine(
                                        pass,
                                        pass.cycles().stream()
                                                .map(one -> place.cycles().record(one.id()))
                                                .map(CycleView::of)
                                                .toList()))
                .toList();
    }

    private static List<CorrectionLine> corrections(
            WashSheet sheet, Map<UUID, String> names, Shell page) {
        return sheet.corrections().stream().map(one -> correction(one, names, page)).toList();
    }

    private static CorrectionLine correction(Correction one, Map<UUID, String> names, Shell page) {
        return new CorrectionLine(
                one.earlier() == null || one.earlier().equals("NOT_STATED"),
                one.subject() + ", " + one.field(),
                Names.orWords(one.earlier(), names, page.texts()),
                Names.orWords(one.later(), names, page.texts()),
                names.getOrDefault(one.correctedBy(), page.t("wash.nobody")),
                page.formats().dayAndTime(one.correctedAt()),
                one.why());
    }

    private Choices choices(Shell page) {
        Options options = new Options(place, page.texts(), page.formats());
        return new Choices(
                options.operators(),
                options.each(Frame.class),
                options.each(QueenCheck.class),
                options.each(BeeMeasure.class),
                options.benches(),
                options.recipes(),
                options.positions(),
                options.each(Pass.class),
                options.spirits());
    }
}
