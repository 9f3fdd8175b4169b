import { z } from 'zod';

// The window's policy forbids code made from text, which zod would otherwise use; loaded before the schemas that a window checks with.
z.config({ jitless: true });
