package org.evenwash.logger.wash;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.agitation.AgitationTime;
import org.evenwash.analysis.agitation.ConditionalFit;
import org.evenwash.analysis.agitation.ModelChoice;
import org.evenwash.analysis.agitation.TimedWash;
import org.evenwash.analysis.recovery.PredictiveBeta;
import org.evenwash.analysis.recovery.RecountSummary;
import org.evenwash.analysis.recovery.Recovery;
import org.evenwash.analysis.recovery.WashPair;
import org.evenwash.logger.store.StudyFilter;
import org.evenwash.logger.store.StudyWash;
import org.evenwash.logger.store.StudyWashes;
import org.evenwash.record.Ids;
import org.jdbi.v3.core.Handle;

/** Collects second washes and reads agitation time and recovery from them. */
public final class AgitationStudies {
    /** More washes tell next to nothing more, and a page that shows them all should open at once. */
    public static final int MOST_WASHES = 500;

    private final Desk desk;
    private final Remembered<Fitted, Fits> fitted = new Remembered<>();

    /** What a fit rests on. */
    private record Fitted(SecondWash secondWash, List<TimedWash> washes) {}

    private record Fits(
            List<AgitationStudy.TimeTo> answers,
            Optional<ModelChoice> choice,
            Optional<ConditionalFit> sameMethod) {}

    AgitationStudies(Desk desk) {
        this.desk = desk;
    }

    public AgitationStudy study(StudyFilter filter, SecondWash secondWash) {
        StudyWashes.Latest latest =
                desk.read(
                        handle ->
                                StudyWashes.latest(
                                        handle, filter, desk.demonstration(), MOST_WASHES));
        List<StudyWash> used = new ArrayList<>();
        List<AgitationStudy.LeftOut> leftOut = new ArrayList<>();
        for (StudyWash wash : latest.washes()) {
            Optional<String> why = unfit(wash, secondWash);
            if (why.isPresent()) {
                boolean byAPerson = wash.excludedWhy() != null;
                leftOut.add(new AgitationStudy.LeftOut(wash, why.get(), byAPerson));
            } else {
                used.add(wash);
            }
        }
        Fits fits =
                fitted.answer(
                        new Fitted(
                                secondWash,
                                used.stream()
                                        .map(wash -> AgitationStudy.timed(wash, secondWash))
                                        .toList()),
                        AgitationStudies::fits);
        return new AgitationStudy(
                filter,
                secondWash,
                used,
                leftOut,
                latest.cut(),
                fits.answers(),
                fits.choice(),
                fits.sameMethod(),
                recoveries(used));
    }

    private static Optional<String> unfit(StudyWash wash, SecondWash secondWash) {
        if (wash.excludedWhy() != null) {
            return Optional.of(wash.excludedWhy());
        }
        if (wash.firstMites() + wash.secondMites() == 0) {
            return Optional.of("no mite in either wash, which says nothing about recovery");
        }
        if (wash.agitation_s() == null) {
            return Optional.of("no agitation is recorded for its first wash");
        }
        if (secondWash == SecondWash.SAME_METHOD && wash.secondAgitation_s() == null) {
            return Optional.of("no agitation is recorded for its second wash");
        }
        return Optional.empty();
    }

    private static Fits fits(Fitted asked) {
        List<TimedWash> timed = asked.washes();
        List<AgitationStudy.TimeTo> answers = new ArrayList<>();
        Optional<ModelChoice> choice = Optional.empty();
        Optional<ConditionalFit> sameMethod = Optional.empty();
        for (double share : AgitationStudy.SHARES) {
            boolean drawn = share == 0.95;
            Result time;
            if (asked.secondWash() == SecondWash.EXHAUSTIVE) {
                AgitationTime.Report report = AgitationTime.exhaustive(timed, share);
                choice = drawn ? report.choice() : choice;
                time = report.result();
            } else {
                AgitationTime.SameMethodReport report = AgitationTime.sameMethod(timed, share);
                sameMethod = drawn ? report.fit() : sameMethod;
                time = report.result();
            }
            answers.add(new AgitationStudy.TimeTo(share, time));
        }
        return new Fits(answers, choice, sameMethod);
    }

    private static List<AgitationStudy.RecipeRecovery> recoveries(List<StudyWash> used) {
        Map<String, List<StudyWash>> groups = new LinkedHashMap<>();
        for (StudyWash wash : used) {
            String key =
                    wash.recipeId() == null ? "" : wash.recipeId() + ":" + wash.recipeVersion();
            groups.computeIfAbsent(key, k -> new ArrayList<>()).add(wash);
        }
        return groups.values().stream()
                .map(AgitationStudies::recovery)
                .sorted(
                        Comparator.comparing(
                                        (AgitationStudy.RecipeRecovery one) ->
                                                one.summary().mites())
                                .reversed())
                .toList();
    }

    private static AgitationStudy.RecipeRecovery recovery(List<StudyWash> washes) {
        List<WashPair> pairs =
                washes.stream()
                        .map(wash -> new WashPair(wash.firstMites(), wash.secondMites()))
                        .toList();
        RecountSummary summary = RecountSummary.of(pairs);
        StudyWash first = washes.get(0);
        return new AgitationStudy.RecipeRecovery(
                first.recipeId(),
                first.recipeVersion(),
                first.recipe() == null ? first.recipeId() : first.recipe(),
                washes,
                summary,
                Recovery.exhaustive(pairs),
                PredictiveBeta.from(summary),
                Recovery.isEnoughForVerdict(summary));
    }

    /** The reason for which a person left a wash out; empty if nobody did. */
    public Optional<String> leftOutWhy(UUID washId) {
        return desk.read(handle -> StudyWashes.excludedWhy(handle, washId));
    }

    /**
     * Leaves a wash out of calibrations and comparisons to come. Those that were made keep it.
     *
     * @param why asked for
     */
    public void leaveOut(UUID washId, String why, By by) {
        String reason = Entry.why(why);
        desk.onceAt(
                by,
                "leave out wash",
                washId,
                handle -> {
                    WashBook.wash(handle, washId);
                    if (!StudyWashes.exclude(handle, washId, reason, desk.now(), by.operatorId())) {
                        throw Refused.conflict(
                                "wash", "is left out already", "there is nothing to do");
                    }
                    note(handle, washId, false, true, reason, by);
                });
    }

    /** Lets a wash that was left out count again. */
    public void takeIn(UUID washId, String why, By by) {
        String reason = Entry.why(why);
        desk.onceAt(
                by,
                "take in wash",
                washId,
                handle -> {
                    WashBook.wash(handle, washId);
                    if (!StudyWashes.include(handle, washId)) {
                        throw Refused.conflict("wash", "is not left out", "there is nothing to do");
                    }
                    note(handle, washId, true, false, reason, by);
                });
    }

    private void note(Handle handle, UUID washId, boolean before, boolean now, String why, By by) {
        desk.new Changes(handle, by, "calibration", Ids.next(), washId, 1, why)
                .field("left out", before, now)
                .done();
    }
}
