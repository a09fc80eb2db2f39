/** Style sheets that views import have no content for a test. */
declare module '*.css';
