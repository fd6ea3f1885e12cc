/** Growth stages and due dates: plain arithmetic, records in and records out. */
@NamedInterface("calc")
@NullMarked
package org.rootling.training.calc;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
