import { z } from 'zod';
import { channelIds, settlingChannels } from './channel.ts';

export const ChannelId = z.enum(channelIds);
export const SettlingChannel = z.enum(settlingChannels);
