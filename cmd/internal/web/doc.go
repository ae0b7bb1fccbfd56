// Package web is the bench in a browser: pages made on the server that work by plain forms,
// and better with a script that swaps parts of them. It is a thin face of package bench; a
// Keeper holds the attempts, and whoever mounts it says who a request comes from.
package web
