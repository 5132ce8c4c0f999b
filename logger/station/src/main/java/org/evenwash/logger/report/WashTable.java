package org.evenwash.logger.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.logger.chart.IntervalBar;
import org.evenwash.logger.report.Block.Cell;
import org.evenwash.logger.report.Block.Column;
import org.evenwash.logger.store.WashLine;
import org.evenwash.logger.wash.Infestations;

/** Washes under each other, each with its figure, limits, picture and verdict. */
final class WashTable {
    /** What each row is known by. */
    enum Lead {
        COLONY,
        DAY
    }

    private final Wording wording;
    private final Readings readings;

    WashTable(Wording wording) {
        this.wording = wording;
        this.readings = new Readings(wording);
    }

    Block of(List<WashLine> lines, Lead lead, Function<WashLine, Optional<Threshold>> threshold) {
        OptionalDouble end = IntervalBar.commonEnd(lines.stream().map(Infestations::of).toList());
        List<List<Cell>> rows = new ArrayList<>();
        for (WashLine line : lines) {
            rows.add(row(line, lead, threshold.apply(line), end));
        }
        return new Block.Table(
                List.of(
                        new Column(
                                wording.say(lead == Lead.COLONY ? "washes.one" : "washes.day"),
                                false,
                                1.3),
                        new Column(wording.say("washes.counted"), true, 0.9),
                        new Column(wording.say("washes.per100"), true, 0.8),
                        new Column(wording.say("washes.interval"), false, 1.7),
                        new Column(wording.say("washes.verdict"), false, 1)),
                rows);
    }

    private List<Cell> row(
            WashLine line, Lead lead, Optional<Threshold> threshold, OptionalDouble end) {
        Result result = Infestations.of(line);
        Verdict.Call call =
                Verdict.of(threshold, result).map(Verdict::call).orElse(Verdict.Call.NOT_ASSESSED);
        return List.of(
                Cell.of(lead == Lead.COLONY ? line.colony() : wording.day(line.sampledOn())),
                Cell.of(counted(line)),
                Cell.of(readings.figure(result)),
                new Cell(
                        readings.range(result),
                        readings.picture(result, threshold, IntervalBar.Size.SMALL, end)
                                .orElse(null)),
                Cell.of(Readings.call(call)));
    }

    private String counted(WashLine line) {
        if (line.mites() == null) {
            return wording.say("washes.notCounted");
        }
        return line.bees() == null
                ? wording.say("washes.miteOnly", line.mites())
                : wording.say("washes.mitesInBees", line.mites(), wording.amount(line.bees()));
    }
}
