@org.springframework.modulith.NamedInterface("db")
@org.jspecify.annotations.NullMarked
package org.rootling.platform.db;
