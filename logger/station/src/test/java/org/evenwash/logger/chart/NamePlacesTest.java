package org.evenwash.logger.chart;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.evenwash.logger.chart.NamePlaces.Place;
import org.junit.jupiter.api.Test;

class NamePlacesTest {
    private static final double WIDTH = 0.07;
    private static final double LINE = 0.055;

    @Test
    void pointsOnEachOther_haveTheirNamesApart() {
        List<Place> points =
                List.of(new Place(0.9, 0.5), new Place(0.9, 0.5), new Place(0.9, 0.54));
        NamePlaces places = new NamePlaces(points);
        List<Place> names = new ArrayList<>();
        points.forEach(point -> names.add(places.beside(point, WIDTH).orElseThrow()));
        for (int i = 0; i < names.size(); i++) {
            for (int k = 0; k < i; k++) {
                boolean apart =
                        Math.abs(names.get(i).x() - names.get(k).x()) >= WIDTH
                                || Math.abs(names.get(i).y() - names.get(k).y()) >= LINE;
                assertThat(apart).as(names.toString()).isTrue();
            }
        }
    }

    @Test
    void alone_itStandsAbove_andBelowAtTheUpperEdge() {
        Place middle = new Place(0.5, 0.5);
        Place top = new Place(0.5, 0.99);
        NamePlaces places = new NamePlaces(List.of(middle, top));
        assertThat(places.beside(middle, WIDTH).orElseThrow().y()).isGreaterThan(0.5);
        assertThat(places.beside(top, WIDTH).orElseThrow().y()).isLessThan(0.99);
    }

    @Test
    void nextToALine_itStandsOnItsOwnSide() {
        Place below = new Place(0.5, 0.47);
        Place above = new Place(0.2, 0.53);
        NamePlaces places = new NamePlaces(List.of(below, above));
        places.keepOff(0.5);
        assertThat(places.beside(below, WIDTH).orElseThrow().y()).isLessThan(0.5 - LINE / 2);
        assertThat(places.beside(above, WIDTH).orElseThrow().y()).isGreaterThan(0.5 + LINE / 2);
    }

    @Test
    void crowdedOut_thereIsNoName() {
        Place point = new Place(0.5, 0.5);
        NamePlaces places = new NamePlaces(List.of(point));
        List<Optional<Place>> names = new ArrayList<>();
        for (int i = 0; i < 40; i++) {
            names.add(places.beside(point, WIDTH));
        }
        assertThat(names.get(0)).isPresent();
        assertThat(names.get(39)).isEmpty();
    }
}
