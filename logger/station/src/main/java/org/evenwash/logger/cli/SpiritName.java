package org.evenwash.logger.cli;

import org.evenwash.analysis.spirit.Spirit;
import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.TypeConversionException;

/** A kind of spirit by its word. */
final class SpiritName implements ITypeConverter<Spirit> {
    @Override
    public Spirit convert(String word) {
        for (Spirit spirit : Spirit.values()) {
            if (spirit.word().equals(word)) {
                return spirit;
            }
        }
        throw new TypeConversionException("expected ethanol or 2-propanol");
    }
}
