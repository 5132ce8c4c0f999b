package org.evenwash.analysis.vectors;

import java.util.ArrayList;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import org.evenwash.analysis.infestation.BeesInSample;
import org.evenwash.analysis.numeric.Level;
import org.evenwash.analysis.numeric.Limits;
import org.evenwash.analysis.numeric.Poisson;
import org.evenwash.analysis.numeric.Roots;
import org.evenwash.analysis.recovery.PredictiveBeta;
import org.hipparchus.linear.EigenDecompositionSymmetric;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;

/**
 * An independent answer to check the corrected rate with: Garwood's limits integrated over the bees
 * (lognormal around their median) and the recovery (Beta), by Gauss–Hermite × Gauss–Jacobi quadrature.
 */
record SplitGamma(int mites, BeesInSample bees, PredictiveBeta recovery) {

    private static final int NODES = 80;

    Limits limits() {
        List<Node> normal = normalRule();
        List<Node> beta = betaRule(recovery.a(), recovery.b());
        double lower =
                mites == 0
                        ? 0
                        : rate(log -> mean(normal, beta, log, mean -> atLeast(mean)) - Level.TAIL);
        double upper = rate(log -> Level.TAIL - mean(normal, beta, log, mean -> atMost(mean)));
        return new Limits(lower, upper);
    }

    private double rate(DoubleUnaryOperator increasingInLog) {
        double guess = Math.log(100 * (mites + 1) / (bees.number() * recovery.mean()));
        return Math.exp(Roots.ofIncreasing(increasingInLog, guess, 0.5, -700, 700));
    }

    private double atLeast(double mean) {
        return new Poisson(mean).atLeast(mites);
    }

    private double atMost(double mean) {
        return new Poisson(mean).atMost(mites);
    }

    private double mean(
            List<Node> normal, List<Node> beta, double logRate, DoubleUnaryOperator probability) {
        double sum = 0;
        for (Node z : normal) {
            double perShare = Math.exp(logRate + bees.logSd() * z.at) * bees.number() / 100;
            for (Node r : beta) {
                sum += z.weight * r.weight * probability.applyAsDouble(perShare * r.at);
            }
        }
        return sum;
    }

    private record Node(double at, double weight) {}

    private static List<Node> normalRule() {
        RealMatrix jacobi = MatrixUtils.createRealMatrix(NODES, NODES);
        for (int i = 1; i < NODES; i++) {
            pair(jacobi, i, Math.sqrt(i));
        }
        return rule(jacobi);
    }

    /** Beta(a, b) on 0 to 1 is the Jacobi weight (1−x)^(b−1)·(1+x)^(a−1), shifted. */
    private static List<Node> betaRule(double a, double b) {
        double alpha = b - 1;
        double beta = a - 1;
        RealMatrix jacobi = MatrixUtils.createRealMatrix(NODES, NODES);
        for (int n = 0; n < NODES; n++) {
            double s = 2.0 * n + alpha + beta;
            double centre =
                    n == 0
                            ? (beta - alpha) / (s + 2)
                            : (beta * beta - alpha * alpha) / (s * (s + 2));
            jacobi.setEntry(n, n, (1 + centre) / 2);
            if (n > 0) {
                pair(jacobi, n, Math.sqrt(coefficient(n, s, alpha, beta)) / 2);
            }
        }
        return rule(jacobi);
    }

    private static double coefficient(int n, double s, double alpha, double beta) {
        double common = 4 * n * (n + alpha) * (n + beta) / (s * s * (s + 1));
        // For n = 1 the two factors are equal, and may both be zero.
        return n == 1 ? common : common * (n + alpha + beta) / (s - 1);
    }

    private static void pair(RealMatrix matrix, int i, double value) {
        matrix.setEntry(i, i - 1, value);
        matrix.setEntry(i - 1, i, value);
    }

    /** Nodes and weights (summing to 1) from a three-term recurrence (Golub and Welsch 1969). */
    private static List<Node> rule(RealMatrix jacobi) {
        var eigen = new EigenDecompositionSymmetric(jacobi);
        var nodes = new ArrayList<Node>();
        for (int i = 0; i < NODES; i++) {
            double first = eigen.getEigenvector(i).getEntry(0);
            nodes.add(new Node(eigen.getEigenvalue(i), first * first));
        }
        return nodes;
    }
}
