package org.evenwash.analysis.vectors;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;

/** The inputs of a case. A missing one is an error, never a default. */
record Inputs(JsonNode node) {

    double number(String name) {
        return required(name).doubleValue();
    }

    int whole(String name) {
        return wholeOf(name, required(name));
    }

    double[] numbers(String name) {
        var values = new double[array(name).size()];
        for (int i = 0; i < values.length; i++) {
            values[i] = array(name).get(i).doubleValue();
        }
        return values;
    }

    int[] wholes(String name) {
        var values = new int[array(name).size()];
        for (int i = 0; i < values.length; i++) {
            values[i] = wholeOf(name, array(name).get(i));
        }
        return values;
    }

    /** Labels, which may be written as strings or numbers. */
    List<String> labels(String name) {
        var values = new ArrayList<String>();
        array(name).forEach(value -> values.add(value.asText()));
        return values;
    }

    String text(String name) {
        return required(name).textValue();
    }

    Inputs object(String name) {
        return new Inputs(required(name));
    }

    private JsonNode array(String name) {
        JsonNode value = required(name);
        if (!value.isArray()) {
            throw new IllegalArgumentException("input " + name + " is not a list");
        }
        return value;
    }

    private JsonNode required(String name) {
        JsonNode value = node.get(name);
        if (value == null || value.isNull()) {
            throw new IllegalArgumentException("input " + name + " is missing");
        }
        return value;
    }

    private static int wholeOf(String name, JsonNode value) {
        double number = value.doubleValue();
        if (!value.isNumber() || number != Math.rint(number)) {
            throw new IllegalArgumentException("input " + name + " is not whole: " + value);
        }
        return Math.toIntExact((long) number);
    }
}
