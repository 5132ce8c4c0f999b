package org.evenwash.logger.chart;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Where names go beside points so that no name hides a point or another name or lies on a level line.
 * Lengths are shares of the axes, x and y from 0 to 1.
 */
final class NamePlaces {
    /** How high a line of letters is. */
    private static final double LINE = 0.055;

    private static final double POINT_HALF_WIDTH = 0.011;
    private static final double POINT_HALF_HEIGHT = 0.018;
    private static final double GAP = 0.008;
    private static final double STROKE_HALF_WIDTH = 0.004;

    /** A name's middle. */
    record Place(double x, double y) {}

    private record Box(double x, double y, double halfWidth, double halfHeight) {
        boolean meets(Box other) {
            return Math.abs(x - other.x) < halfWidth + other.halfWidth
                    && Math.abs(y - other.y) < halfHeight + other.halfHeight;
        }

        boolean inside() {
            return x - halfWidth >= 0
                    && x + halfWidth <= 1
                    && y - halfHeight >= 0
                    && y + halfHeight <= 1;
        }
    }

    private final List<Box> taken = new ArrayList<>();

    NamePlaces(List<Place> points) {
        points.forEach(
                point ->
                        taken.add(
                                new Box(
                                        point.x(),
                                        point.y(),
                                        POINT_HALF_WIDTH,
                                        POINT_HALF_HEIGHT)));
    }

    /** Keeps names off a line across the picture. */
    void keepOff(double y) {
        taken.add(new Box(0.5, y, 0.5, STROKE_HALF_WIDTH));
    }

    /**
     * The nearest free place for a point's name: above, below, right, left, then further away.
     *
     * @param width of the name
     * @return empty where all places near the point are taken
     */
    Optional<Place> beside(Place point, double width) {
        double up = POINT_HALF_HEIGHT + LINE / 2 + GAP;
        double half = width / 2 + GAP;
        double aside = POINT_HALF_WIDTH + half + GAP;
        for (int rows = 0; rows < 3; rows++) {
            double away = up + rows * LINE;
            double[][] steps = {
                {0, away},
                {0, -away},
                {aside, rows * LINE},
                {-aside, rows * LINE},
                {aside, -rows * LINE},
                {-aside, -rows * LINE}
            };
            for (double[] step : steps) {
                Box box = new Box(point.x() + step[0], point.y() + step[1], half, LINE / 2);
                if (box.inside() && taken.stream().noneMatch(box::meets)) {
                    taken.add(box);
                    return Optional.of(new Place(box.x(), box.y()));
                }
            }
        }
        return Optional.empty();
    }
}
