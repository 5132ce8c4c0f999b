package org.evenwash.analysis.trend;

import java.util.ArrayList;
import java.util.List;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.numeric.Limits;

/** Growth between two dates: with no third there is nothing to check a line against. */
final class TwoDates {

    private TwoDates() {}

    /**
     * The ratio of the two infestations has exact conditional limits (of the mites of both dates, the
     * later ones are binomial), turned into per cent a week.
     */
    static Result growth(List<Sample> samples) {
        double early = samples.get(0).week();
        double earlyMites = 0;
        double earlyBees = 0;
        double lateMites = 0;
        double lateBees = 0;
        double late = early;
        for (Sample s : samples) {
            if (s.day() == samples.get(0).day()) {
                earlyMites += s.mites();
                earlyBees += s.bees();
            } else {
                late = s.week();
                lateMites += s.mites();
                lateBees += s.bees();
            }
        }
        double weeks = late - early;
        double perBee = earlyBees / lateBees;
        Limits share = Limits.ofProportion(lateMites, lateMites + earlyMites);
        double value = perWeek(lateMites / earlyMites * perBee, weeks);
        Limits limits = share.map(p -> perWeek(p / (1 - p) * perBee, weeks));
        List<String> remarks = new ArrayList<>();
        remarks.add(
                "From two dates only: scatter beyond chance in counting cannot be seen, and nothing is"
                        + " projected.");
        return Double.isFinite(value)
                ? new Estimate(
                        value,
                        Math.min(limits.lower(), value),
                        Math.max(limits.upper(), value),
                        remarks)
                : new NotEnoughData("dates that lie further apart", remarks);
    }

    private static double perWeek(double ratio, double weeks) {
        return 100 * Math.expm1(Math.log(ratio) / weeks);
    }
}
