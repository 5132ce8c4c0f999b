package org.evenwash.analysis.spirit;

/** Straight lines between the points of a printed table. */
final class Table {
    private Table() {}

    /** @param x within the table's range */
    static double at(double[] xs, double[] ys, double x) {
        int next = 1;
        while (next < xs.length - 1 && xs[next] < x) {
            next++;
        }
        double share = (x - xs[next - 1]) / (xs[next] - xs[next - 1]);
        return ys[next - 1] + share * (ys[next] - ys[next - 1]);
    }
}
