package org.evenwash.analysis.efficacy;

/** The washes of one colony, or of one group pooled, before and after a treatment or beside it. */
public record BeforeAfter(Wash before, Wash after) {

    /** Bees before over bees after: turns a ratio of mites into a ratio of infestations. */
    double beeFactor() {
        return before.bees() / after.bees();
    }
}
