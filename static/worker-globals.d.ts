/** Put in front of the worker by the server. */
declare const VERSION: string;
declare const FILES: string[];
