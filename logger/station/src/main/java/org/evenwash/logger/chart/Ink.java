package org.evenwash.logger.chart;

import java.awt.Color;

/**
 * The colours by their job. State colours follow IEC 60073 and stand only for state, always beside a
 * word or a shape.
 */
public enum Ink {
    PAPER("--paper", 0xFBFAF7, 0x12191D),
    INK("--ink", 0x17262E, 0xE9EEF0),
    MUTED("--muted", 0x4A5B64, 0xA9B6BC),
    ACCENT("--accent", 0x0B5F73, 0x6FC3D6),
    DANGER("--danger", 0xA11D1D, 0xFF8A80),
    ABNORMAL("--abnormal", 0x7A5200, 0xF2C14E),
    NORMAL("--normal", 0x1F6B35, 0x7CCB8F),
    ACTION("--action", 0x1D4E9E, 0x8FB8FF);

    private final String property;
    private final int light;
    private final int dark;

    Ink(String property, int light, int dark) {
        this.property = property;
        this.light = light;
        this.dark = dark;
    }

    /** The custom property that a page sets. */
    public String property() {
        return property;
    }

    public Color light() {
        return new Color(light);
    }

    /** "var(--ink, #17262E)": the page's colour, or the light one where no page sets any. */
    public String css() {
        return "var(" + property + ", " + hex(light) + ")";
    }

    /** What a picture standing alone says about dark surroundings. */
    static String darkStyle() {
        StringBuilder style = new StringBuilder("@media (prefers-color-scheme: dark) { :root {");
        for (Ink ink : values()) {
            style.append(' ').append(ink.property).append(": ").append(hex(ink.dark)).append(';');
        }
        return style.append(" } }").toString();
    }

    static String hex(int rgb) {
        return String.format("#%06X", rgb);
    }
}
