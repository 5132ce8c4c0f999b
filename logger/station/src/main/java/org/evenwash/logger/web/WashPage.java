package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.evenwash.analysis.numeric.Level;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.logger.report.Block;
import org.evenwash.logger.report.DayWords;
import org.evenwash.logger.report.HandlingFacts;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Correction;
import org.evenwash.logger.store.CountedWash;
import org.evenwash.logger.store.Frame;
import org.evenwash.logger.store.Handling;
import org.evenwash.logger.store.MiteCount;
import org.evenwash.logger.store.Photo;
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

    /**
     * All washes of that day.
     *
     * @param verdict a sentence, null without a threshold
     * @param other the other wash, null where there are more
     */
    public record Together(String words, Reading reading, String verdict, UUID other) {}

    public record CountLine(MiteCount count, Pass pass, String who) {}

    public record PassLine(PassSheet sheet, List<TiedCycle> cycles) {}

    /** A cycle and the jar position at which it belongs to its pass. */
    public record TiedCycle(CycleView view, int position) {}

    /**
     * A second wash or a blank run, offered beneath the first.
     *
     * @param counted whether its mites are in
     * @param spirit id, or nothing
     * @param handAgitation seconds as typed, or nothing
     */
    public record LaterPass(Pass kind, boolean counted, String spirit, String handAgitation) {}

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
     * @param together with the other washes of that day, null without any
     * @param settle what would settle an undecided verdict, null where nothing has to
     * @param protocol name and edition of what the checks come from
     */
    public record View(
            WashSheet sheet,
            Reading reading,
            String verdict,
            Together together,
            String settle,
            List<CountLine> counts,
            List<PassLine> agitation,
            String protocol,
            Judgement checks,
            List<CorrectionLine> corrections,
            List<LaterPass> later,
            List<Photo> photos,
            List<Option> calibrations,
            CalibrationUse calibration,
            Handled handled,
            Choices choices) {

        /** How far estimated bees may be off, 95 %; null where they were counted or nobody knows. */
        public String beesRange(Formats formats) {
            Double bees = sheet.wash().bees();
            Double logSd = sheet.wash().beesLogSd();
            return bees == null || logSd == null
                    ? null
                    : formats.number(bees * Math.exp(-Level.Z * logSd), 0)
                            + "–"
                            + formats.number(bees * Math.exp(Level.Z * logSd), 0);
        }

        public String mass() {
            Double mass_g = sheet.wash().sampleMass_g();
            return mass_g == null ? "" : Formats.plain(mass_g);
        }

        public boolean removed() {
            return sheet.wash().removedAt() != null;
        }

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

    /**
     * How the sample was taken and washed, as forms and facts show it.
     *
     * @param apiaryId where the sieves of later washes are set
     * @param yesNo what the two questions offer
     */
    public record Handled(Handling handling, String apiaryId, List<Option> yesNo) {
        public boolean sieves() {
            return handling.beeSieve_mm() != null || handling.miteSieve_mm() != null;
        }

        public String frames() {
            return typed(handling.frames());
        }

        public String liquid() {
            return typed(handling.liquid_mL());
        }

        public String beeSieve() {
            return typed(handling.beeSieve_mm());
        }

        public String miteSieve() {
            return typed(handling.miteSieve_mm());
        }

        public String beesCovered() {
            return typed(handling.beesCovered());
        }

        public String jarWallsChecked() {
            return typed(handling.jarWallsChecked());
        }

        public String timesWashed() {
            return typed(handling.timesWashed());
        }

        private static String typed(Object value) {
            if (value == null) {
                return "";
            }
            return value instanceof Double number ? Formats.plain(number) : value.toString();
        }

        public List<Block.Fact> facts(Shell page) {
            return HandlingFacts.of(handling, page.wording());
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
                together(sheet, page),
                DayWords.settle(sheet, page.wording()).orElse(null),
                counts(sheet, names, page),
                agitation(sheet),
                sheet.protocol().name() + ", " + sheet.protocol().edition(),
                Judgement.of(sheet.checks()),
                corrections(sheet, names, page),
                List.of(later(sheet, Pass.SECOND), later(sheet, Pass.BLANK)),
                place.photos().ofWash(sheet.wash().id()),
                place.beeEstimates().inUse().stream()
                        .map(one -> new Option(one.id().toString(), one.name()))
                        .toList(),
                CalibrationUse.of(sheet, place, page),
                new Handled(
                        sheet.wash().handling(),
                        sheet.apiary().id().toString(),
                        new Options(place, page.texts(), page.formats()).yesNo()),
                choices(page));
    }

    private static Together together(WashSheet sheet, Shell page) {
        WashSheet.Together found = sheet.together();
        if (found == null) {
            return null;
        }
        Verdict verdict = found.verdict();
        return new Together(
                DayWords.withOthers(found, page.wording()),
                Reading.of(
                        found.day().infestation(),
                        verdict == null ? Verdict.Call.NOT_ASSESSED : verdict.call(),
                        Pictures.large(found.day().infestation(), verdict, page),
                        page.formats()),
                verdict == null ? null : page.formats().decimals(verdict.words()),
                found.others() > 1
                        ? null
                        : found.day().washes().stream()
                                .map(CountedWash::id)
                                .filter(id -> !id.equals(sheet.wash().id()))
                                .findFirst()
                                .orElseThrow());
    }

    private static LaterPass later(WashSheet sheet, Pass kind) {
        Optional<PassSheet> pass = sheet.pass(kind);
        return new LaterPass(
                kind,
                pass.flatMap(PassSheet::firstCount).isPresent(),
                pass.map(one -> one.pass().spiritBatchId()).map(UUID::toString).orElse(""),
                pass.map(one -> one.pass().handAgitation_s()).map(Formats::plain).orElse(""));
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
                                                .map(one -> tied(one.id(), pass.pass().id()))
                                                .toList()))
                .toList();
    }

    private TiedCycle tied(UUID cycleId, UUID passId) {
        return new TiedCycle(
                CycleView.of(place.cycles().record(cycleId)),
                place.cycles().position(cycleId, passId));
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
