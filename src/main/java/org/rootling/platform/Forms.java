package org.rootling.platform;

import java.util.function.Supplier;
import org.springframework.validation.BindingResult;

/** How a page takes a form: show it again with its errors, or do the work and go on. */
public final class Forms {

    private Forms() {}

    /**
     * Does the work unless the form has errors. A {@link Refused} becomes an error beside its field (or on the form as a
     * whole) and the form is shown again with what was typed.
     *
     * @param errors the binding result of the form
     * @param work does it and names the view, usually a redirect
     * @param again fills the model and names the view of the form
     */
    public static String submit(BindingResult errors, Supplier<String> work, Supplier<String> again) {
        if (errors.hasErrors()) {
            return again.get();
        }
        try {
            return work.get();
        } catch (Refused refused) {
            String field = refused.field();
            if (field != null && errors.getFieldType(field) != null) {
                errors.rejectValue(field, refused.key(), refused.args(), refused.key());
            } else {
                errors.reject(refused.key(), refused.args(), refused.key());
            }
            return again.get();
        }
    }
}
