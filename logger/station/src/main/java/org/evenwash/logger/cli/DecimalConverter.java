package org.evenwash.logger.cli;

import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.TypeConversionException;

/** A number on the command line, as strict as in a file. */
final class DecimalConverter implements ITypeConverter<Double> {
    @Override
    public Double convert(String text) {
        return Decimals.read(text)
                .orElseThrow(
                        () ->
                                new TypeConversionException(
                                        "\""
                                                + text
                                                + "\" is not a number"
                                                + Decimals.advice(text)
                                                        .map(advice -> "; " + advice)
                                                        .orElse("")));
    }
}
