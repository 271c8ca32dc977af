// A real OpenID Connect provider over invented people. Says its issuer on the first line.
import { createServer } from 'node:http';
import Provider from 'oidc-provider';

const people = {
  anna: { name: 'Anna Berg', roles: ['everybody', 'school-principal'] },
  maren: { name: 'Maren Oyelaran', roles: 'school-teachers', class_id: ['room-3'] },
  guest: { name: 'Guest', roles: ['everybody'] },
  lost: { name: 'Lost', roles: ['school-teachers'] },
};

const server = createServer();
server.listen(0, '127.0.0.1', () => {
  const issuer = `http://127.0.0.1:${server.address().port}`;
  const provider = new Provider(issuer, {
    clients: [{
      client_id: 'roundelay',
      client_secret: 'a secret for tests only',
      redirect_uris: [process.argv[2]],
    }],
    claims: { openid: ['sub'], profile: ['name'], school: ['roles', 'class_id'] },
    cookies: { keys: ['a key for tests only'] },
    findAccount: (ctx, id) => people[id] && {
      accountId: id,
      claims: async () => ({ sub: id, ...people[id] }),
    },
  });
  server.on('request', provider.callback());
  console.log(issuer);
});
process.stdin.on('end', () => process.exit(0)).resume();
