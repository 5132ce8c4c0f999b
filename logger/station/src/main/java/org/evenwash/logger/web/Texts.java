package org.evenwash.logger.web;

import java.text.MessageFormat;
import java.util.Locale;
import java.util.MissingResourceException;
import java.util.ResourceBundle;

/**
 * The words of the pages, from the one bundle {@code web/texts}. A translation is a further file
 * beside it; until there is one, every reader gets the English words with their own numbers and
 * dates.
 */
public final class Texts {
    private static final String BUNDLE = "web/texts";

    private final ResourceBundle bundle;
    private final Locale locale;

    private Texts(ResourceBundle bundle, Locale locale) {
        this.bundle = bundle;
        this.locale = locale;
    }

    /** The texts nearest to {@code locale}; English where there is no translation. */
    public static Texts in(Locale locale) {
        ResourceBundle.Control noSystemLocale =
                ResourceBundle.Control.getNoFallbackControl(
                        ResourceBundle.Control.FORMAT_PROPERTIES);
        return new Texts(ResourceBundle.getBundle(BUNDLE, locale, noSystemLocale), locale);
    }

    public Locale locale() {
        return locale;
    }

    /** Language of the words themselves, for the {@code lang} attribute. */
    public String language() {
        String language = bundle.getLocale().getLanguage();
        return language.isEmpty() ? "en" : language;
    }

    /**
     * The text under {@code key} with its places filled in.
     *
     * @throws MissingResourceException if the bundle lacks the key: a mistake in the program
     */
    public String say(String key, Object... places) {
        return new MessageFormat(bundle.getString(key), locale).format(places);
    }

    /** The text for one of a family of keys, such as {@code outcome.COMPLETE}. */
    public String say(Enum<?> value) {
        return say(value.getDeclaringClass().getSimpleName() + "." + value.name());
    }

    /** How a person calls the form field {@code name}. */
    public String field(String name) {
        String key = "field." + name;
        return bundle.containsKey(key) ? bundle.getString(key) : name;
    }

    boolean has(String key) {
        return bundle.containsKey(key);
    }
}
