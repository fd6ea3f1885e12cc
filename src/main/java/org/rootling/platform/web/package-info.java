/** The web shell: errors, forms taken once, locale, headers. */
@NamedInterface("web")
@NullMarked
package org.rootling.platform.web;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
