// Read by React and Ink while they load: the production build draws a frame in half the time, and
// `DEV=true`, which many shells have set for other reasons, would make Ink look for its debugger.
process.env.NODE_ENV ??= "production";
delete process.env.DEV;
