package org.evenwash.logger.chart;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;

/**
 * A straight axis from 0.
 *
 * @param end value at the right end
 * @param step between labelled values
 * @param left pixel of 0
 * @param right pixel of {@code end}
 */
public record Scale(double end, double step, double left, double right) {

    /** Up to about {@code steps} round steps (1, 2, 2.5 or 5 times a power of ten) over a value. */
    static Scale over(double value, int steps, double left, double right) {
        double rough = Math.max(value, 1e-9) / steps;
        double power = Math.pow(10, Math.floor(Math.log10(rough)));
        double step = 10 * power;
        for (double factor : new double[] {5, 2.5, 2, 1}) {
            step = factor * power >= rough * (1 - 1e-9) ? factor * power : step;
        }
        return new Scale(Math.ceil(value / step - 1e-9) * step, step, left, right);
    }

    double x(double value) {
        return left + (right - left) * Math.min(value, end) / end;
    }

    List<Double> ticks() {
        List<Double> ticks = new ArrayList<>();
        for (int i = 0; i * step <= end * (1 + 1e-9); i++) {
            ticks.add(i * step);
        }
        return ticks;
    }

    /** So many values at equal distances, both ends included; at least two. */
    public static double[] steps(double from, double to, int count) {
        double[] values = new double[count];
        for (int i = 0; i < count; i++) {
            values[i] = from + (to - from) * i / (count - 1);
        }
        return values;
    }

    static String text(double value) {
        BigDecimal rounded = new BigDecimal(value, new MathContext(12, RoundingMode.HALF_EVEN));
        return rounded.signum() == 0 ? "0" : rounded.stripTrailingZeros().toPlainString();
    }
}
