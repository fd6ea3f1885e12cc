@org.jspecify.annotations.NullMarked
package org.rootling.ground.web;
