@org.jspecify.annotations.NullMarked
package org.rootling.platform.db;
