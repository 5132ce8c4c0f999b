package org.evenwash.analysis.apiary;

/**
 * How many bees to look at so as to meet at least one infested bee (Pirk et al. 2013, J. Apic. Res.
 * 52(4), §2.2): n = ln(1 − confidence) / ln(1 − prevalence · sensitivity), rounded up.
 */
public final class DetectionSize {

    private DetectionSize() {}

    /**
     * @param prevalence share of infested bees, above 0, at most 1
     * @param confidence wanted probability of meeting one, above 0, below 1
     * @param sensitivity share of infested bees that are recognised, above 0, at most 1
     */
    public static long bees(double prevalence, double confidence, double sensitivity) {
        boolean valid =
                prevalence > 0
                        && prevalence <= 1
                        && confidence > 0
                        && confidence < 1
                        && sensitivity > 0
                        && sensitivity <= 1;
        if (!valid) {
            throw new IllegalArgumentException(
                    "prevalence, confidence and sensitivity are shares between 0 and 1, not "
                            + prevalence
                            + ", "
                            + confidence
                            + ", "
                            + sensitivity);
        }
        double missed = Math.log1p(-prevalence * sensitivity);
        return (long) Math.max(1, Math.ceil(Math.log1p(-confidence) / missed - 1e-9));
    }

    /** Probability that at least one of so many bees is infested and recognised. */
    public static double confidence(double prevalence, long bees) {
        return -Math.expm1(bees * Math.log1p(-prevalence));
    }
}
