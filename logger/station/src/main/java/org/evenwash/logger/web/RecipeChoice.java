package org.evenwash.logger.web;

/** A recipe as a form names it: id and version with a colon between. */
record RecipeChoice(String id, int version) {
    private static final int LONGEST = 80;

    /** Notes a mistake where no version is named. */
    static RecipeChoice of(Input in) {
        return of(in, "recipe");
    }

    /** As {@link #of(Input)}, from a field of that name. */
    static RecipeChoice of(Input in, String field) {
        String recipe = in.text(field, LONGEST);
        int colon = recipe == null ? -1 : recipe.lastIndexOf(':');
        if (colon > 0 && recipe.substring(colon + 1).matches("[0-9]{1,6}")) {
            return new RecipeChoice(
                    recipe.substring(0, colon), Integer.parseInt(recipe.substring(colon + 1)));
        }
        if (recipe != null) {
            in.mistake(field, "bad.recipe", recipe);
        }
        return new RecipeChoice(null, 0);
    }
}
